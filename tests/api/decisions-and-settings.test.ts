import { Value } from 'typebox/value';
import { describe, expect, it } from 'vitest';
import { SettingsAnswer } from '../../api/contract/settings.ts';
import { appOver, assessedStore, NOW_MS } from '../support/fleet-app.ts';

const key = { unit: 'U1', position: '', component: 'battery' };

describe('bookings', () => {
  it('are made, and taken back', async () => {
    const store = await assessedStore();
    const app = await appOver(store);
    const payload = { ...key, bookedOn: '2026-04-10', note: 'bay 2' };
    const made = await app.inject({ method: 'POST', url: '/api/bookings', payload });
    expect([made.statusCode, made.json()]).toEqual([201, { bookingId: 1, unit: 'U1', bookedOn: '2026-04-10' }]);
    expect(await store.bookings()).toEqual([{ ...payload, bookingId: 1, createdUs: NOW_MS * 1000, withdrawnUs: null }]);
    const back = await app.inject({ method: 'DELETE', url: '/api/bookings/1' });
    expect([back.statusCode, back.body]).toEqual([204, '']);
    const again = await app.inject({ method: 'DELETE', url: '/api/bookings/1' });
    expect([again.statusCode, again.json()]).toMatchObject([
      404,
      { detail: 'booking requires one that stands, got 1' },
    ]);
  });

  it('are not made twice for one job: a window that had not seen the first is told', async () => {
    const app = await appOver(await assessedStore());
    const book = (change: object) =>
      app.inject({
        method: 'POST',
        url: '/api/bookings',
        payload: { ...key, bookedOn: '2026-04-10', note: '', ...change },
      });
    expect((await book({ bookedOn: '2026-03-01' })).statusCode).toBe(201); // a day that has gone by binds nobody
    expect((await book({})).statusCode).toBe(201);
    const second = await book({ bookedOn: '2026-04-12' });
    expect([second.statusCode, second.json()]).toMatchObject([
      409,
      { detail: 'booking requires a job that is not booked yet, got one for 2026-04-10 (U1 battery)' },
    ]);
    expect((await book({ component: 'starter' })).statusCode).toBe(201);
    await app.inject({ method: 'DELETE', url: '/api/bookings/2' });
    expect((await book({ bookedOn: '2026-04-12' })).statusCode).toBe(201);
  });

  it.each([
    [{ ...key, bookedOn: '2026-02-31', note: '' }, /^bookedOn requires a date YYYY-MM-DD, got 2026-02-31 \(body\)$/],
    [{ ...key, bookedOn: 'soon', note: '' }, /^bookedOn requires a date/],
    [
      { ...key, component: 'gearbox', bookedOn: '2026-04-10', note: '' },
      /^component requires one of battery, starter, got gearbox \(body\)$/,
    ],
    [
      { ...key, bookedOn: '2026-04-10', note: '', price: 1 },
      /^body requires only fields that it knows, got price \(body\)$/,
    ],
    [{ ...key, bookedOn: '2026-04-10' }, /^note requires a value, got none \(body\)$/],
  ])('refuse %o', async (payload, words) => {
    const response = await (
      await appOver(await assessedStore())
    ).inject({ method: 'POST', url: '/api/bookings', payload });
    expect(response.statusCode).toBe(400);
    expect(response.json<{ detail: string }>().detail).toMatch(words);
  });

  it('refuse a unit that was never loaded', async () => {
    const payload = { ...key, unit: 'nobody', bookedOn: '2026-04-10', note: '' };
    const response = await (
      await appOver(await assessedStore())
    ).inject({ method: 'POST', url: '/api/bookings', payload });
    expect(response.statusCode).toBe(404);
  });
});

describe('deferrals', () => {
  it('need a reason, and can be undone', async () => {
    const store = await assessedStore();
    const app = await appOver(store);
    const defer = (reason: string) =>
      app.inject({ method: 'POST', url: '/api/deferrals', payload: { ...key, untilOn: '2026-05-01', reason } });
    expect((await defer('')).statusCode).toBe(400);
    expect((await defer('parts on order')).json()).toEqual({ deferralId: 1, unit: 'U1', untilOn: '2026-05-01' });
    expect((await app.inject({ method: 'DELETE', url: '/api/deferrals/1' })).statusCode).toBe(204);
    expect((await store.deferrals())[0]!.withdrawnUs).toBe(NOW_MS * 1000);
    expect((await app.inject({ method: 'DELETE', url: '/api/deferrals/2' })).statusCode).toBe(404);
  });
});

describe('settings', () => {
  it('answer by their schema and take a patch', async () => {
    const app = await appOver(await assessedStore());
    const before = (await app.inject('/api/settings')).json<SettingsAnswer>();
    expect([...Value.Errors(SettingsAnswer, before)]).toEqual([]);
    const after = (
      await app.inject({ method: 'PUT', url: '/api/settings', payload: { roadCallMinor: 60_000 } })
    ).json<SettingsAnswer>();
    expect(after.settings).toEqual({ ...before.settings, roadCallMinor: 60_000 });
    expect(after.version).not.toBe(before.version);
    expect(after.assumptions.find(({ name }) => name === 'Road call')).toEqual({
      name: 'Road call',
      setting: 'roadCallMinor',
      value: 'USD 600.00',
      from: 'set',
      source: 'set by the fleet’s people',
    });
    expect(after.assumptions.filter(({ from }) => from === 'set')).toHaveLength(1);
    expect(after.defaults).toEqual(before.settings);
  });

  it.each([
    [{ roadCallMinor: -1 }, /^roadCallMinor requires 0 or more, got -1 \(body\)$/],
    [{ roadCallMinor: 0.5 }, /^roadCallMinor requires a whole number, got 0.5 \(body\)$/],
    [{ currency: 'XQQ' }, /currency requires an ISO 4217 code, got XQQ/],
    [{ timeZone: 'Mars/Base' }, /time zone requires an IANA name, got Mars\/Base/],
    [{ assumedVisitDays: 0 }, /^assumedVisitDays requires 1 or more, got 0/],
    [{ costs: { battery: { partsMinor: 1 } } }, /costs\.battery\.laborHours requires a value, got none \(body\)/],
    [{ systemCodes: { '013': 'gearbox' } }, /^systemCodes\.013 requires one of battery, .*, got gearbox/],
    [{ surprise: 1 }, /^body requires only fields that it knows, got surprise/],
  ])('refuse %o', async (payload, words) => {
    const store = await assessedStore();
    const response = await (await appOver(store)).inject({ method: 'PUT', url: '/api/settings', payload });
    expect(response.statusCode).toBe(400);
    expect(response.json<{ detail: string }>().detail).toMatch(words);
    expect(await store.settingsVersion()).toBe('settings-0');
  });
});
