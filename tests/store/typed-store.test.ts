import { describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { imported, lined } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const BOOKING = {
  unit: 'U1',
  position: 'left',
  component: 'battery',
  bookedOn: '2026-07-01',
  note: '',
  createdUs: 5,
} as const;
const DEFERRAL = {
  unit: 'U1',
  position: '',
  component: 'starter',
  untilOn: '2026-07-01',
  reason: 'no parts',
  createdUs: 5,
} as const;

describe('settings', () => {
  it('are the defaults until somebody sets one; a patch leaves the rest', async () => {
    const store = fresh.store();
    expect(await store.settings()).toEqual(DEFAULT_SETTINGS);
    const costs = { ...DEFAULT_SETTINGS.costs, starter: { partsMinor: 1, laborHours: 1.5 } };
    expect(await store.saveSettings({ currency: 'EUR', costs })).toEqual({
      ...DEFAULT_SETTINGS,
      currency: 'EUR',
      costs,
    });
    await store.saveSettings({ currency: 'NOK' });
    expect(await (await fresh.another()).settings()).toEqual({ ...DEFAULT_SETTINGS, currency: 'NOK', costs });
  });

  it('what a patch leaves undefined stays', async () => {
    const store = fresh.store();
    await store.saveSettings({ roadCallMinor: 600 });
    const patch: Record<string, unknown> = { currency: 'EUR', roadCallMinor: undefined };
    expect(await store.saveSettings(patch)).toEqual({ ...DEFAULT_SETTINGS, roadCallMinor: 600, currency: 'EUR' });
  });
});

describe('bookings and deferrals', () => {
  it('are numbered, kept in order, and stay with the instant of their withdrawal', async () => {
    const store = fresh.store();
    const first = await store.addBooking(BOOKING);
    const second = await store.addBooking({ ...BOOKING, component: 'starter' });
    expect(first).toEqual({ ...BOOKING, bookingId: 1, withdrawnUs: null });
    await store.withdrawBooking(first.bookingId, 9);
    expect(await store.bookings()).toEqual([{ ...first, withdrawnUs: 9 }, second]);
    const deferral = await store.addDeferral(DEFERRAL);
    await store.withdrawDeferral(deferral.deferralId, 7);
    expect(await store.deferrals()).toEqual([{ ...DEFERRAL, deferralId: 1, withdrawnUs: 7 }]);
  });

  it('can be withdrawn once', async () => {
    const store = fresh.store();
    const { bookingId } = await store.addBooking(BOOKING);
    const { deferralId } = await store.addDeferral(DEFERRAL);
    await store.withdrawBooking(bookingId, 9);
    await store.withdrawDeferral(deferralId, 9);
    await expect(store.withdrawBooking(bookingId, 10)).rejects.toThrow(
      'withdraw requires a booking that stands, got 1 (bookings)',
    );
    await expect(store.withdrawDeferral(deferralId, 10)).rejects.toThrow(
      'withdraw requires a deferral that stands, got 1 (deferrals)',
    );
    await expect(store.withdrawBooking(99, 10)).rejects.toThrow('got 99 (bookings)');
    expect((await store.bookings())[0]!.withdrawnUs).toBe(9);
  });

  it('outlive every load and unload of the unit they name', async () => {
    const store = fresh.store();
    const importId = await imported(store, 'units.csv', async (writer) => writer.units(lined(unit())));
    const booking = await store.addBooking(BOOKING);
    await store.unload(importId);
    expect(await store.bookings()).toEqual([booking]);
  });
});

describe('the version of what people typed', () => {
  it('changes with each setting, booking, deferral and withdrawal, and with nothing else', async () => {
    const store = fresh.store();
    const seen = [await store.settingsVersion()];
    const changes = [
      async () => store.saveSettings({ roadCallMinor: 1 }),
      async () => store.addBooking(BOOKING),
      async () => store.addDeferral(DEFERRAL),
      async () => store.withdrawBooking(1, 9),
      async () => store.withdrawDeferral(1, 9),
    ];
    for (const change of changes) {
      await change();
      seen.push(await store.settingsVersion());
      await imported(store, `${seen.length}.csv`, () => undefined);
      expect(await store.settingsVersion()).toBe(seen.at(-1));
    }
    expect(new Set(seen).size).toBe(6);
  });
});
