import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { backtest } from '../../etl/backtest.ts';
import { loadPaths } from '../../etl/load.ts';
import type { Backtest, BacktestForecast } from '../../etl/model/backtest.ts';
import { failureProbability } from '../../etl/model/outlook.ts';
import { asOf, dayNumber } from '../../etl/model/time.ts';
import { knownUs } from '../../etl/model/work-order.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';

/** An invented fleet of 24 units over 420 days, walked through at three origins. */
const NEWEST = asOf('2026-10-31');
const PLAN = { fromOn: '2026-04-01', toOn: '2026-07-01', stepDays: 45, horizonDays: 90, draws: 20 };

let folder = '';
let store: Store;
let walked: Backtest;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'backtest-'));
  await simulateFleet({ units: 24, days: 420, seed: 11, out: join(folder, 'fleet'), waveformShare: 0 });
  store = await openStore(join(folder, 'store.sqlite'));
  await loadPaths(store, [join(folder, 'fleet')], { nowUs: asOf('2026-11-01').us });
  walked = await backtest(store, { ...PLAN, newest: NEWEST });
});
afterAll(async () => {
  store.close();
  await rm(folder, { recursive: true, force: true });
});

const key = ({ asOfOn, unit, position, component }: BacktestForecast) => [asOfOn, unit, position, component].join(' ');
const said = (forecast: BacktestForecast) => {
  const { asOfOn, unit, component, position, pFail, windowEarlyOn, windowMidOn, windowLateOn } = forecast;
  const { baseRate, ageOnly, belowThreshold, lastValue } = forecast;
  const outlook = { asOfOn, unit, component, position, pFail, windowEarlyOn, windowMidOn, windowLateOn };
  return { ...outlook, baseRate, ageOnly, belowThreshold, lastValue };
};

describe('walking forward', () => {
  it('stands at each origin in turn, for every part in service', () => {
    expect(walked.origins).toEqual(['2026-04-01', '2026-05-16', '2026-06-30']);
    expect(walked.forecasts.length).toBeGreaterThan(100);
    expect(new Set(walked.forecasts.map(key)).size).toBe(walked.forecasts.length);
  });

  it.each(['2026-04-01', '2026-06-30'])(
    'says at %s what a plain assessment of that day says, to the last digit',
    async (on) => {
      const { outlooks } = await assess(store, asOf(on));
      const plain = outlooks.flatMap(({ unit, position, component, survival, ...windows }) =>
        survival === null
          ? []
          : [
              {
                place: [unit, position, component],
                pFail: failureProbability(survival, 90),
                window: [windows.windowEarlyOn, windows.windowMidOn, windows.windowLateOn],
              },
            ],
      );
      const own = walked.forecasts.filter(({ asOfOn }) => asOfOn === on);
      expect(
        own.map(({ unit, position, component, pFail, windowEarlyOn, windowMidOn, windowLateOn }) => ({
          place: [unit, position, component],
          pFail,
          window: [windowEarlyOn, windowMidOn, windowLateOn],
        })),
      ).toEqual(plain);
    },
  );

  it('knows nothing of what came later: with all of it scrambled it says the same, and only what happened differs', async () => {
    const scrambled = await backtest(scrambledAfter(store, '2026-06-30'), { ...PLAN, newest: NEWEST });
    expect(scrambled.forecasts.map(said)).toEqual(walked.forecasts.map(said));
    expect(scrambled.forecasts.map(({ failedOn }) => failedOn)).not.toEqual(
      walked.forecasts.map(({ failedOn }) => failedOn),
    );
  });

  it('follows each part to its failure, its replacement or the end of what is known', () => {
    for (const { asOfOn, failedOn, failedWithin, followedToOn, end } of walked.forecasts) {
      const days = dayNumber(followedToOn) - dayNumber(asOfOn);
      expect(followedToOn <= walked.followedToOn || end !== 'in_service').toBe(true);
      if (end === 'gone') expect([failedOn, failedWithin]).toEqual([null, null]);
      else if (failedOn !== null) expect([failedOn, failedWithin]).toEqual([followedToOn, days <= 90]);
      else expect(failedWithin).toBe(days >= 90 ? false : null);
    }
    expect(walked.forecasts.some(({ failedWithin }) => failedWithin === true)).toBe(true);
  });

  it('is the same on another day: seeded', async () => {
    const again = await backtest(store, { ...PLAN, newest: NEWEST });
    expect(again).toEqual(walked);
  });

  it('refuses a past that is too short', async () => {
    await expect(backtest(store, { newest: asOf('2025-11-01') })).rejects.toThrow(
      /^backtest requires 90 days of records and a horizon of 90 after them, got records from 2025-\d\d-\d\d to 2025-\d\d-\d\d/,
    );
  });
});

/** Cranks after a day read anything, records entered later say the opposite. */
function scrambledAfter(real: Store, on: string): Store {
  const end = asOf(on).us;
  return {
    ...real,
    async finished(engine) {
      const table = await real.finished(engine);
      if (table === null) return null;
      const columns = Object.fromEntries(Object.entries(table.columns).map(([name, column]) => [name, column.slice()]));
      table.columns.timeUs.forEach((us, row) => {
        if (us <= end) return;
        for (const name of ['restVolts', 'dipVolts', 'crankVolts', 'crankRpm', 'sagRatio', 'tempC'])
          columns[name]![row]! *= 0.3 + ((row * 7919) % 100) / 50;
      });
      return { ...table, columns: columns as typeof table.columns };
    },
    async workOrders(asOfUs, unit) {
      const orders = await real.workOrders(asOfUs, unit);
      return orders.map((order, index) =>
        knownUs(order) <= end || index % 2 === 0
          ? order
          : { ...order, complaint: 'NO CRANK, ROAD CALL', cause: 'BATTERY FAILED', correction: 'REPLACED BATTERY' },
      );
    },
  };
}
