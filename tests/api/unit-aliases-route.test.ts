import { describe, expect, it } from 'vitest';
import { buildApp } from '../../api/app.ts';
import { dateUs } from '../../etl/model/time.ts';
import { NOW_MS } from '../support/fleet-app.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const url = '/api/unit-aliases';

async function fleet() {
  const store = fresh.store();
  await imported(store, 'a.csv', async (writer) => {
    await writer.units(lined(unit({ unit: 'T-014' })));
    await writer.measured('T-014', '', measured({ timeUs: dateUs('2026-01-01'), crankSeconds: 1 }));
    await writer.measured('t/014', '', measured({ timeUs: dateUs('2026-01-02'), crankSeconds: 1 }));
  });
  return buildApp({ store, storeKind: 'own', webFolder: '/nowhere', now: () => NOW_MS });
}

describe('/api/unit-aliases', () => {
  it('offers, accepts what it offered, and takes it back', async () => {
    const app = await fleet();
    const offered = (await app.inject(url)).json<{ offers: object[] }>();
    const offer = { unit: 'T-014', spellings: ['t/014'] };
    expect(offered).toEqual({ aliases: [], apart: [], offers: [offer] });
    const made = await app.inject({ method: 'POST', url, payload: offered.offers[0]! });
    const alias = { spelling: 't/014', unit: 'T-014', goesBy: 'T-014', createdAt: '2026-04-01T12:00:00Z' };
    expect([made.statusCode, made.json()]).toEqual([
      201,
      { aliases: [alias], takesEffect: 'lives and forecasts follow with the next assessment' },
    ]);
    expect((await app.inject(url)).json()).toEqual({ aliases: [alias], apart: [], offers: [] });
    const cranks = async (name: string) => {
      const answer = await app.inject(`/api/units/${encodeURIComponent(name)}/cranks`);
      return answer.json<{ cranks: unknown[] }>().cranks.length;
    };
    expect([await cranks('T-014'), await cranks('t/014')]).toEqual([2, 2]);
    const gone = { method: 'DELETE', url: `${url}/${encodeURIComponent('t/014')}` } as const;
    expect((await app.inject(gone)).statusCode).toBe(204);
    expect([await cranks('T-014'), await cranks('t/014')]).toEqual([1, 1]);
    const again = await app.inject(gone);
    expect([again.statusCode, again.json()]).toMatchObject([
      404,
      { detail: 'alias remove requires a spelling of which something was said, got t/014 (see alias list)' },
    ]);
  });

  it('keeps apart what a person says are two units, until that is taken back', async () => {
    const app = await fleet();
    const payload = { unit: 'T-014', spellings: ['t/014'] };
    const pair = { unit: 'T-014', other: 't/014', createdAt: '2026-04-01T12:00:00Z' };
    const said = await app.inject({ method: 'POST', url: '/api/unit-distinctions', payload });
    expect([said.statusCode, said.json()]).toEqual([201, { apart: [pair] }]);
    expect((await app.inject(url)).json()).toEqual({ aliases: [], apart: [pair], offers: [] });
    const gone = { method: 'DELETE', url: `/api/unit-distinctions/t%2F014/T-014` } as const;
    expect((await app.inject(gone)).statusCode).toBe(204);
    expect((await app.inject(url)).json()).toEqual({ aliases: [], apart: [], offers: [payload] });
    const again = await app.inject(gone);
    expect([again.statusCode, again.json()]).toMatchObject([
      404,
      { detail: 'taking back requires a pair that was said to be two units, got t/014, T-014 (alias list)' },
    ]);
  });

  it('what is said last counts: one unit after two; two only once they are no longer one', async () => {
    const app = await fleet();
    const payload = { unit: 'T-014', spellings: ['t/014'] };
    await app.inject({ method: 'POST', url: '/api/unit-distinctions', payload });
    await app.inject({ method: 'POST', url, payload });
    expect((await app.inject(url)).json()).toMatchObject({ aliases: [{ spelling: 't/014' }], apart: [], offers: [] });
    const refused = await app.inject({ method: 'POST', url: '/api/unit-distinctions', payload });
    expect([refused.statusCode, refused.json()]).toMatchObject([
      400,
      { detail: 'alias apart requires spellings that count as two units, got t/014 (alias remove it first)' },
    ]);
  });

  it.each([
    [{ unit: 'T-014', spellings: [] }],
    [{ unit: 'T-014', spellings: ['T-014'] }],
    [{ unit: 'T-014', spellings: ['T014'], more: 1 }],
    [{ spellings: ['T014'] }],
  ])('refuses %j as a problem of the request', async (payload) => {
    const app = await fleet();
    const answer = await app.inject({ method: 'POST', url, payload });
    expect(answer.statusCode).toBe(400);
    expect((await app.inject(url)).json()).toMatchObject({ aliases: [] });
  });
});
