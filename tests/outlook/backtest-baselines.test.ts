import { describe, expect, it } from 'vitest';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { dayNumber } from '../../etl/model/time.ts';
import { failureProbability } from '../../etl/model/outlook.ts';
import {
  ageSurvival,
  baseRate,
  belowThreshold,
  lastValue,
  latestReadings,
} from '../../etl/outlook/backtest-baselines.ts';
import { fitLifeModels } from '../../etl/outlook/life-model.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { dateOf } from '../../etl/model/time.ts';
import { inventedCranks } from '../support/invented-cranks.ts';
import { batteryLife } from '../support/service-lives.ts';

const ORIGIN = dayNumber('2026-01-01');

describe('base rate', () => {
  it('of parts that fail at a constant rate is that rate over the horizon', () => {
    const random = createRandom(1, 'base rate');
    const lives = Array.from({ length: 3000 }, (_, k) => {
      const failed = dayNumber('2024-01-01') - 2000 * Math.log(1 - random.uniform());
      const isFailed = failed < ORIGIN;
      const watchedToOn = dateOf(Math.ceil(Math.min(failed, ORIGIN)));
      return batteryLife({ unit: `U${k}`, end: isFailed ? 'failure' : 'in_service', watchedToOn });
    });
    expect(Math.abs(baseRate(lives, ORIGIN, 90) - (1 - Math.exp(-90 / 2000)))).toBeLessThan(0.004);
  });

  it('with less of a past than the horizon is carried on at its own rate; without a past it is 0', () => {
    const since = dateOf(ORIGIN - 40);
    const lives = Array.from({ length: 100 }, (_, k) =>
      batteryLife({
        watchedFromOn: since,
        end: k === 0 ? 'failure' : 'in_service',
        watchedToOn: dateOf(k === 0 ? ORIGIN - 10 : ORIGIN),
      }),
    );
    expect(baseRate(lives, ORIGIN, 90)).toBeCloseTo(1 - 0.99 ** 3, 12);
    expect(baseRate([], ORIGIN, 90)).toBe(0);
  });
});

describe('age only', () => {
  const models = fitLifeModels([batteryLife(), batteryLife({ unit: 'U2', end: 'failure', watchedToOn: '2025-02-01' })]);
  const fails = (fittedOn: string | null) =>
    failureProbability(
      ageSurvival(batteryLife({ fittedOn }), models.battery['']!, { originDay: ORIGIN, unitInServiceOn: '2015-01-01' }),
      90,
    );

  it('rises with age and takes an unknown age for neither new nor ancient', () => {
    expect(fails('2025-06-01')).toBeLessThan(fails('2022-06-01'));
    expect(fails('2022-06-01')).toBeLessThan(fails('2019-06-01'));
    expect(fails(null)).toBeGreaterThan(fails('2025-12-01'));
    expect(fails(null)).toBeLessThan(fails('2010-01-01'));
  });
});

describe('latest readings', () => {
  const engine = (level: number) =>
    dailyMedians(inventedCranks({ seed: 3, fromOn: '2025-11-01', days: 60, crankVolts: () => level }), Infinity);

  it('say whether the voltage stands under 9.6 V at 12 V, half of it at 24 V', () => {
    expect(belowThreshold(latestReadings(engine(9), 12))).toBe(true);
    expect(belowThreshold(latestReadings(engine(11), 12))).toBe(false);
    expect(latestReadings(engine(20), 24).crankVoltsAt12).toBeCloseTo(
      latestReadings(engine(20), 12).crankVoltsAt12 / 2,
    );
    expect(belowThreshold(latestReadings(null, 12))).toBe(false);
  });

  it('against the class: lower is worse, unknown is unknown', () => {
    const [low, usual, high] = [9, 10, 11].map((level) => latestReadings(engine(level), 12));
    const all = [low!, usual!, high!];
    expect(lastValue('battery', usual!, all)).toBeCloseTo(0, 12);
    expect(lastValue('battery', low!, all)!).toBeGreaterThan(0.05);
    expect(lastValue('starter', high!, all)!).toBeCloseTo(0, 12);
    expect(lastValue('battery', latestReadings(null, 12), all)).toBeNull();
  });
});
