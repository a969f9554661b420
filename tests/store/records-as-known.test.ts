import { describe, expect, it } from 'vitest';
import type { FittedPart } from '../../etl/model/part.ts';
import { dateUs } from '../../etl/model/time.ts';
import type { Unit } from '../../etl/model/unit.ts';
import type { WorkOrder } from '../../etl/model/work-order.ts';
import { contentHash } from '../../etl/store/content-hash.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';
import { workOrder } from '../support/work-orders.ts';

const fresh = freshStore();

const putUnits = async (file: string, ...rows: Unit[]) =>
  imported(fresh.store(), file, async (writer) => writer.units(lined(...rows)));
const putOrders = async (file: string, ...rows: WorkOrder[]) =>
  imported(fresh.store(), file, async (writer) => writer.workOrders(lined(...rows)));
const putParts = async (file: string, ...rows: FittedPart[]) =>
  imported(fresh.store(), file, async (writer) => writer.fittedParts(lined(...rows)));

const PART: FittedPart = {
  unit: 'U1',
  component: 'battery',
  position: '',
  fittedOn: '2025-03-01',
  part: 'B-31',
  rating: '925 CCA',
  warrantyUntilOn: '2028-03-01',
  costMinor: 18_900,
  enteredUs: null,
};
const entered = (on: string) => ({ enteredUs: dateUs(on) });

describe('the register', () => {
  it('gives every field back as it was written, sorted by unit', async () => {
    const full = unit({
      unit: 'ü/14 % ../../x',
      systemVolts: 24,
      batteryCcaA: 1400.5,
      fuel: 'diesel',
      vin: '1M8GDM9AXKP042788',
      inServiceOn: '2019-05-01',
      outOfServiceOn: '2026-01-31',
      nextPmOn: '2026-02-01',
      pmIntervalDays: 90,
      startsPerDay: 5.5,
      starterRatedKw: 4.5,
      costCentre: '<b>7</b>',
      enteredUs: dateUs('2025-01-01'),
    });
    await putUnits('units.csv', full, unit({ unit: 'A2' }), unit({ unit: 'A10' }));
    expect(await fresh.store().units()).toEqual([unit({ unit: 'A10' }), unit({ unit: 'A2' }), full]);
    expect(await fresh.store().unit(full.unit)).toEqual(full);
    expect(await fresh.store().unit('a2')).toBeNull();
  });

  it('of two rows for a unit the later entered wins, in whatever order the files come', async () => {
    const [march, april] = [
      unit({ depot: 'March', ...entered('2025-03-01') }),
      unit({ depot: 'April', ...entered('2025-04-01') }),
    ];
    await putUnits('april.csv', april);
    await putUnits('march.csv', march, unit({ depot: 'undated' }));
    expect(await fresh.store().units()).toEqual([april]);
    expect(await fresh.store().unit('U1')).toEqual(april);
  });

  it('as of a day between two entries it is the earlier one; before both, the undated one', async () => {
    await putUnits(
      'a.csv',
      unit({ depot: 'April', ...entered('2025-04-01') }),
      unit({ depot: 'March', ...entered('2025-03-01') }),
    );
    await putUnits('b.csv', unit({ depot: 'undated' }));
    expect((await fresh.store().units(dateUs('2025-03-15'))).map(({ depot }) => depot)).toEqual(['March']);
    expect((await fresh.store().units(dateUs('2025-02-15'))).map(({ depot }) => depot)).toEqual(['undated']);
    expect((await fresh.store().units(dateUs('2025-04-01'))).map(({ depot }) => depot)).toEqual(['April']);
  });

  it('at a tie the greater content hash wins, and the other comes back when that file goes', async () => {
    const rows = [unit({ depot: 'North' }), unit({ depot: 'South' })].sort((a, b) =>
      contentHash(a) < contentHash(b) ? -1 : 1,
    );
    const [lesser, greater] = [rows[0]!, rows[1]!];
    const importId = await putUnits('greater.csv', greater);
    await putUnits('lesser.csv', lesser);
    expect(await fresh.store().units()).toEqual([greater]);
    await fresh.store().unload(importId);
    expect(await fresh.store().units()).toEqual([lesser]);
  });
});

describe('work orders', () => {
  const order = workOrder({
    position: 'left',
    openedUs: dateUs('2025-03-01'),
    closedUs: dateUs('2025-03-05'),
    enteredUs: dateUs('2025-03-02'),
    odometerKm: 123_456.7,
    engineHours: 8_000.5,
    complaint: 'No start, "clicks"\nsecond line',
    cause: 'starter',
    correction: 'R&R starter',
    systemCode: '032',
    roadCall: true,
    partsCostMinor: 42_000,
    laborHours: 2.5,
    laborCostMinor: 30_000,
    downtimeHours: 8,
  });

  it('are given back whole once they are closed', async () => {
    await putOrders('orders.csv', order, workOrder({ workOrder: 'W0', unit: 'A1', roadCall: false }));
    expect(await fresh.store().workOrders(Infinity)).toEqual([
      workOrder({ workOrder: 'W0', unit: 'A1', roadCall: false }),
      order,
    ]);
    expect(await fresh.store().workOrders(Infinity, 'U1')).toEqual([order]);
    expect(await fresh.store().workOrders(Infinity, 'U2')).toEqual([]);
  });

  it('are not known before they were entered, and while still open only by their complaint', async () => {
    await putOrders('orders.csv', order);
    expect(await fresh.store().workOrders(dateUs('2025-03-02') - 1)).toEqual([]);
    const { complaint, odometerKm, engineHours, roadCall, position, openedUs, enteredUs } = order;
    expect(await fresh.store().workOrders(dateUs('2025-03-04'))).toEqual([
      workOrder({ complaint, odometerKm, engineHours, roadCall, position, openedUs, enteredUs, closedUs: null }),
    ]);
  });

  it('written twice are one by number and unit: the later known version, as of each day', async () => {
    const first = { ...order, ...entered('2025-03-02'), closedUs: dateUs('2025-03-02'), correction: 'charged battery' };
    const second = { ...order, ...entered('2025-03-10'), closedUs: dateUs('2025-03-05') };
    await putOrders('new.csv', second);
    await putOrders('old.csv', first, { ...first, unit: 'U2' });
    const corrections = async (on: string) =>
      (await fresh.store().workOrders(dateUs(on), 'U1')).map(({ correction }) => correction);
    expect(await corrections('2025-03-09')).toEqual(['charged battery']);
    expect(await corrections('2025-03-10')).toEqual(['R&R starter']);
    expect(await fresh.store().workOrders(Infinity)).toHaveLength(2);
  });
});

describe('fitted parts', () => {
  it('are one by unit, component, position and day; the later entered wins; sorted', async () => {
    const right = { ...PART, position: 'right' };
    const corrected = { ...PART, rating: '1000 CCA', ...entered('2025-05-01') };
    const earlier = { ...PART, fittedOn: '2022-01-01' };
    await putParts('a.csv', right, corrected);
    await putParts('b.csv', PART, earlier, { ...PART, unit: 'A1' });
    expect(await fresh.store().fittedParts(Infinity)).toEqual([{ ...PART, unit: 'A1' }, earlier, corrected, right]);
    expect(await fresh.store().fittedParts(dateUs('2025-04-01'), 'U1')).toEqual([earlier, PART, right]);
  });
});

describe('rows of units that are not in the register', () => {
  it('wait for it, counted by unit over all kinds; a register row ends the waiting', async () => {
    await imported(fresh.store(), 'cranks.csv', async (writer) => {
      await writer.measured('U1', '', measured({ timeUs: 1e15 }, { timeUs: 1.1e15 }));
      await writer.measured('U1', 'left', measured({ timeUs: 1e15 }));
      await writer.measured('U2', '', measured({ timeUs: 1e15 }));
    });
    await putOrders('orders.csv', workOrder(), workOrder({ unit: 'U3' }));
    await putParts('parts.csv', PART);
    expect(await fresh.store().waiting()).toEqual([
      { unit: 'U1', rows: 5 },
      { unit: 'U2', rows: 1 },
      { unit: 'U3', rows: 1 },
    ]);
    const importId = await putUnits('units.csv', unit(), unit({ unit: 'U3' }));
    expect(await fresh.store().waiting()).toEqual([{ unit: 'U2', rows: 1 }]);
    await fresh.store().unload(importId);
    expect((await fresh.store().waiting()).map(({ unit: name }) => name)).toEqual(['U1', 'U2', 'U3']);
  });
});

describe('the newest that is known', () => {
  it('is the newest crank or record up to a limit, of live imports only', async () => {
    expect(await fresh.store().newestKnownUs(Infinity)).toBeNull();
    const late = await imported(fresh.store(), 'late.csv', async (writer) =>
      writer.measured('U1', '', measured({ timeUs: dateUs('2025-06-01') }, { timeUs: dateUs('2031-01-01') })),
    );
    await putOrders('orders.csv', workOrder({ closedUs: dateUs('2025-05-01'), enteredUs: dateUs('2025-05-09') }));
    expect(await fresh.store().newestKnownUs(dateUs('2026-01-01'))).toBe(dateUs('2025-06-01'));
    expect(await fresh.store().newestKnownUs(Number.MAX_SAFE_INTEGER)).toBe(dateUs('2031-01-01'));
    expect(await fresh.store().newestKnownUs(dateUs('2025-01-01'))).toBeNull();
    await fresh.store().unload(late);
    expect(await fresh.store().newestKnownUs(dateUs('2026-01-01'))).toBe(dateUs('2025-05-09'));
  });
});
