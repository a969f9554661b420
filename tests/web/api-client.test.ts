import { describe, expect, it } from 'vitest';
import { createApiClient, problemOf, problemWords, RequestFailed } from '../../web/api-client.ts';

type Asked = { path: string; method: string; body: unknown };

function client(answer: (path: string) => Response | Error) {
  const asked: Asked[] = [];
  const request = ((path: string, options: RequestInit = {}) => {
    const body = typeof options.body === 'string' ? (JSON.parse(options.body) as unknown) : null;
    asked.push({ path, method: options.method ?? 'GET', body });
    const given = answer(path);
    return given instanceof Error ? Promise.reject(given) : Promise.resolve(given);
  }) as typeof fetch;
  return { asked, api: createApiClient(request) };
}

const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status });

async function problem(act: Promise<unknown>) {
  const error: unknown = await act.catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(RequestFailed);
  return problemOf(error);
}

describe('asking the server', () => {
  it('sends unit numbers as one encoded part of the path', async () => {
    const { asked, api } = client(() => json({ unit: '../../x' }));
    await api.unit('../../x', '');
    await api.unit('ü/14 %', '2026-03-01');
    await api.trackRecord('?component=battery');
    expect(asked.map(({ path }) => path)).toEqual([
      '/api/units/..%2F..%2Fx',
      '/api/units/%C3%BC%2F14%20%25?as_of=2026-03-01',
      '/api/track-record?component=battery',
    ]);
  });

  it('holds the ranking that came last', async () => {
    const { api } = client(() => json({ state: 'ready', rows: [] }));
    expect(api.heldRanking()).toBeNull();
    await api.ranking();
    expect(api.heldRanking()).toEqual({ state: 'ready', rows: [] });
  });

  it('books and withdraws', async () => {
    const { asked, api } = client(() => new Response(null, { status: 204 }));
    await api.book({ unit: 'A', position: '', component: 'battery', bookedOn: '2026-03-05', note: '' });
    await api.withdrawBooking(7);
    expect(asked.map(({ method, path }) => `${method} ${path}`)).toEqual([
      'POST /api/bookings',
      'DELETE /api/bookings/7',
    ]);
    expect(asked[0]!.body).toMatchObject({ unit: 'A', bookedOn: '2026-03-05' });
  });

  it('says what to do when nothing comes back, and when the server says no', async () => {
    const silent = await problem(client(() => new TypeError('failed to fetch')).api.ranking());
    expect(silent.title).toBe('The server does not answer');
    expect(silent.remedy).toMatch(/start it again/);
    const told = { title: 'unit not known', detail: 'no unit A', remedy: 'load its register' };
    expect(await problem(client(() => json(told, 404)).api.unit('A', ''))).toEqual(told);
    const named = { ...told, type: 'about:blank', title: 'Not Found' };
    expect((await problem(client(() => json(named, 404)).api.unit('A', ''))).title).toBe('It is not known here');
    const bare = await problem(client(() => new Response('<html>', { status: 502 })).api.unit('A', ''));
    expect(bare.title).toBe('The server answered 502');
    expect(bare.remedy).toMatch(/try again/i);
  });

  it('says a refusal in a line as sentences, whether or not its parts end as such', async () => {
    const told = {
      type: 'about:blank',
      title: 'Not Found',
      detail: 'booking requires one that stands, got 2',
      remedy: 'Reload the page.',
    };
    const failure = client(() => json(told, 404)).api.withdrawBooking(2);
    expect(await failure.catch(problemWords)).toBe(
      'It is not known here. booking requires one that stands, got 2. Reload the page.',
    );
  });
});
