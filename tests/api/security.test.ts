import { describe, expect, it } from 'vitest';
import { appOver, assessedStore } from '../support/fleet-app.ts';

const app = await appOver(await assessedStore());
const booking = { unit: 'U1', position: '', component: 'battery', bookedOn: '2026-04-10', note: '' };
const post = (headers: Record<string, string>, payload: string | object = booking) =>
  app.inject({ method: 'POST', url: '/api/bookings', headers, payload });

describe('the Host header', () => {
  it.each(['localhost:4680', '127.0.0.1:4680', '[::1]:4680', 'LOCALHOST'])('%s is served', async (host) => {
    expect((await app.inject({ url: '/healthz', headers: { host } })).statusCode).toBe(200);
  });

  it.each(['attacker.example', 'localhost.attacker.example:4680', '10.0.0.7', '127.0.0.1.nip.example'])(
    '%s is refused, reading as well as writing',
    async (host) => {
      const response = await app.inject({ url: '/api/ranking', headers: { host } });
      expect(response.statusCode).toBe(403);
      expect(response.headers['content-type']).toBe('application/problem+json');
      expect((await post({ host })).statusCode).toBe(403);
    },
  );
});

describe('a write', () => {
  it.each([
    [{ origin: 'http://localhost:80', host: 'localhost:80' }, 201],
    [{ origin: 'http://localhost:4681', host: 'localhost:4680' }, 403],
    [{ origin: 'https://attacker.example' }, 403],
    [{ origin: 'null' }, 403],
    [{ 'sec-fetch-site': 'cross-site' }, 403],
    [{ 'sec-fetch-site': 'same-origin' }, 201],
    [{}, 201],
  ])('with %o answers %i', async (headers, status) => {
    const answer = await post(headers);
    expect(answer.statusCode).toBe(status);
    // A job is booked once.
    if (status === 201)
      await app.inject({ method: 'DELETE', url: `/api/bookings/${answer.json<{ bookingId: number }>().bookingId}` });
  });

  it('of anything but JSON is refused', async () => {
    const form = await post({ 'content-type': 'application/x-www-form-urlencoded' }, 'unit=U1');
    expect([form.statusCode, form.json()]).toMatchObject([
      415,
      { detail: 'a write requires content-type application/json, got application/x-www-form-urlencoded' },
    ]);
    expect((await post({ 'content-type': 'text/plain' }, JSON.stringify(booking))).statusCode).toBe(415);
  });

  it('of broken JSON or a body that is too large is a problem, not a crash', async () => {
    const broken = await post({ 'content-type': 'application/json' }, '{"unit":');
    expect([broken.statusCode, broken.headers['content-type']]).toEqual([400, 'application/problem+json']);
    const large = await post({ 'content-type': 'application/json' }, JSON.stringify({ unit: 'x'.repeat(100_000) }));
    expect([large.statusCode, large.headers['content-type']]).toEqual([413, 'application/problem+json']);
  });
});

describe('every answer', () => {
  it('carries a policy that lets pages load only what this server hands out', async () => {
    const { headers } = await app.inject('/api/ranking');
    const policy = String(headers['content-security-policy']);
    expect(policy).toContain("default-src 'self'");
    expect(policy).not.toMatch(/unsafe|upgrade-insecure-requests|\*|https?:/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['strict-transport-security']).toBeUndefined();
  });

  it('that is an error is problem details, whatever was asked', async () => {
    for (const url of [
      '/nothing',
      '/api/nothing',
      '/api/units/',
      '/%E0%A4%A',
      '/../../etc/passwd',
      '/api/ranking?format=xml',
    ]) {
      const response = await app.inject(url);
      expect([400, 404], url).toContain(response.statusCode);
      expect(response.headers['content-type'], url).toBe('application/problem+json');
      const problem = response.json<Record<string, unknown>>();
      expect(problem['status'], url).toBe(response.statusCode);
      expect(
        [problem['title'], problem['detail'], problem['remedy']].every(
          (each) => typeof each === 'string' && each !== '',
        ),
      ).toBe(true);
    }
  });

  it('hides what went wrong inside, and reports it', async () => {
    const store = await assessedStore();
    store.imports = () => Promise.reject(new Error('secret path /home/x'));
    const response = await (await appOver(store)).inject('/api/imports');
    expect([response.statusCode, response.headers['content-type']]).toEqual([500, 'application/problem+json']);
    expect(response.body).not.toContain('secret');
  });
});
