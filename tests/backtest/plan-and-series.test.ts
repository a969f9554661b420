import { describe, expect, it } from 'vitest';
import { backtestPlan, entryDelayDays, originsOf } from '../../etl/backtest-plan.ts';
import { readSeries } from '../../etl/backtest-series.ts';
import { dailyOf } from '../../etl/assess-engines.ts';
import { asOf, dateUs, US_PER_DAY, dayNumber } from '../../etl/model/time.ts';
import { inventedCranks } from '../support/invented-cranks.ts';
import { memoryStore } from '../support/memory-store.ts';
import { workOrder } from '../support/work-orders.ts';

describe('the plan', () => {
  const known = { firstOn: '2024-11-01', followedToOn: '2026-10-13' };

  it('left open: the newest origin whose horizon is over, and eleven before it', () => {
    const plan = backtestPlan({}, known);
    expect(plan).toEqual({ fromOn: '2025-08-19', toOn: '2026-07-15', stepDays: 30, horizonDays: 90 });
    const origins = originsOf(plan);
    expect([origins.length, origins[0], origins.at(-1)]).toEqual([12, '2025-08-19', '2026-07-15']);
  });

  it('with a short past: as many as have a past of ninety days', () => {
    const plan = backtestPlan({}, { firstOn: '2026-02-01', followedToOn: '2026-10-13' });
    expect(originsOf(plan)).toEqual(['2026-05-16', '2026-06-15', '2026-07-15']);
  });

  it('as asked', () => {
    const plan = backtestPlan({ fromOn: '2026-01-01', toOn: '2026-02-01', stepDays: 14, horizonDays: 30 }, known);
    expect(originsOf(plan)).toEqual(['2026-01-01', '2026-01-15', '2026-01-29']);
  });

  it('refuses what cannot be walked', () => {
    expect(() => backtestPlan({ stepDays: 0 }, known)).toThrow(
      'backtest requires a whole number of days above 0, got 0 (--step)',
    );
    expect(() => backtestPlan({ horizonDays: 1.5 }, known)).toThrow(
      'backtest requires a whole number of days above 0, got 1.5 (--horizon)',
    );
    expect(() => backtestPlan({ fromOn: '2026-09-01' }, known)).toThrow(
      'backtest requires a first day whose horizon of 90 days is over, got 2026-09-01 where the last is 2026-07-15 (--from, --horizon)',
    );
    const short = { firstOn: '2026-06-01', followedToOn: '2026-10-13' };
    expect(() => backtestPlan({ toOn: '2026-10-13' }, known)).toThrow(
      'backtest requires a last day before 2026-10-13, up to which is known what happened, got 2026-10-13 (--to)',
    );
    expect(backtestPlan({ toOn: '2026-10-12' }, known).toOn).toBe('2026-10-12');
    expect(() => backtestPlan({}, short)).toThrow(
      'backtest requires 90 days of records and a horizon of 90 after them, got records from 2026-06-01 to 2026-10-13 (--from, --to, --horizon)',
    );
  });
});

describe('the delay of records', () => {
  it('is what nineteen in twenty are entered within', () => {
    const entered = (days: number) => workOrder({ openedUs: 0, closedUs: 0, enteredUs: days * US_PER_DAY });
    expect(entryDelayDays([])).toBe(0);
    expect(entryDelayDays(Array.from({ length: 101 }, (_, k) => entered(k / 10)))).toBe(10);
    expect(entryDelayDays([entered(400)])).toBe(30);
  });
});

describe('daily medians read once', () => {
  const table = inventedCranks({
    seed: 4,
    fromOn: '2025-01-01',
    days: 90,
    rpm: (day) => (day < 40 ? Number.NaN : 190),
  });
  const engine = { engineId: 1, unit: 'U1', position: '' };
  const store = memoryStore({ engines: [engine], finished: new Map([[1, table]]) });

  it.each(['2024-12-31', '2025-01-01', '2025-01-20', '2025-02-12', '2025-03-31', '2026-01-01'])(
    'and cut at %s are those read on that day, columns and all',
    async (on) => {
      const series = await readSeries(store);
      const until = { untilUs: asOf(on).us, timeZone: 'UTC' };
      expect(await series.at(engine, until)).toEqual(await dailyOf(store)(engine, until));
    },
  );

  it('within a day are read anew', async () => {
    const noon = { untilUs: dateUs('2025-02-10') + US_PER_DAY / 2, timeZone: 'UTC' };
    const [cut, fresh] = [await (await readSeries(store)).at(engine, noon), await dailyOf(store)(engine, noon)];
    expect(cut).toEqual(fresh);
    expect(cut!.daily.cranks.at(-1)).toBeLessThan(3);
  });

  it('of an engine without cranks are none', async () => {
    const series = await readSeries(memoryStore({ engines: [engine] }));
    const until = { untilUs: asOf('2025-02-01').us, timeZone: 'UTC' };
    expect([await series.at(engine, until), series.firstOn]).toEqual([null, null]);
  });

  it.each(['America/Los_Angeles', 'Pacific/Auckland'])("are the days of the fleet's zone: %s", async (timeZone) => {
    const there = memoryStore({ engines: [engine], finished: new Map([[1, table]]) });
    await there.saveSettings({ timeZone });
    const series = await readSeries(there);
    for (const on of ['2025-01-20', '2025-03-09', '2025-03-30']) {
      const until = { untilUs: asOf(on, timeZone).us, timeZone };
      const read = await series.at(engine, until);
      expect(read).toEqual(await dailyOf(there)(engine, until));
      expect(read!.daily.day.at(-1)).toBe(dayNumber(on));
    }
  });
});
