import type { BacktestForecast, BacktestSummary } from '../../etl/model/backtest.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { failedWithin } from '../../etl/outlook/backtest-outcome.ts';
import { pullMonths } from '../../etl/outlook/backtest-pulls.ts';
import { scoresOf } from '../../etl/outlook/backtest-scores.ts';
import { createRandom } from '../../etl/stats/random.ts';

/** A forecast of a battery that was followed for a year and lived. */
export function backtestForecast(known: Partial<BacktestForecast> = {}): BacktestForecast {
  const whole: BacktestForecast = {
    asOfOn: '2026-01-01',
    unit: 'U1',
    position: '',
    component: 'battery',
    partSinceOn: '2025-01-01',
    pFail: 0.05,
    windowEarlyOn: '2026-06-01',
    windowMidOn: '2028-01-01',
    windowLateOn: null,
    failedWithin: null,
    failedOn: null,
    end: known.failedOn === undefined || known.failedOn === null ? 'in_service' : 'failure',
    followedToOn: known.failedOn ?? '2027-01-01',
    pFailByEnd: 0.2,
    pFailByEndOfAge: 0.2,
    baseRate: 0.05,
    ageOnly: 0.05,
    belowThreshold: false,
    lastValue: 0,
    ...known,
  };
  return { ...whole, failedWithin: failedWithin(whole, dayNumber(whole.asOfOn), 90) };
}

/**
 * Forecasts of units whose failures come at their own constant rates: by the rate itself (perfect), by the fleet's mean
 * (base rate, age), or by nothing. `sharpness` 1 forecasts the truth, 0 the mean.
 */
export function inventedForecasts({
  units = 200,
  seed = 1,
  sharpness = 1,
  followedToOn = '2026-06-01',
} = {}): BacktestForecast[] {
  const random = createRandom(seed, 'invented forecasts');
  const origins = ['2025-06-01', '2025-07-01', '2025-08-01', '2025-09-01'];
  return Array.from({ length: units }, (_, k) => {
    const perDay = 0.0012 * Math.exp(1.2 * random.normal());
    const failedDay = dayNumber('2025-06-01') + 1 + Math.floor(-Math.log(1 - random.uniform()) / perDay);
    const followedTo = dayNumber(followedToOn);
    const failed = failedDay <= followedTo;
    const end = failed ? failedDay : followedTo;
    return origins.flatMap((asOfOn) => {
      const days = end - dayNumber(asOfOn);
      if (days <= 0) return [];
      const told = Math.exp(sharpness * Math.log(perDay) + (1 - sharpness) * Math.log(0.0012 * Math.exp(0.72)));
      return backtestForecast({
        asOfOn,
        unit: `U${k}`,
        pFail: -Math.expm1(-90 * told),
        pFailByEnd: -Math.expm1(-days * told),
        baseRate: 0.15,
        ageOnly: 0.1 + 0.1 * random.uniform(),
        belowThreshold: random.uniform() < 0.1,
        lastValue: random.normal(),
        failedOn: failed ? dateOf(failedDay) : null,
        followedToOn: dateOf(end),
      });
    });
  }).flat();
}

/** The whole of a backtest on such forecasts, as the store keeps it. */
export function inventedSummary(forecasts: readonly BacktestForecast[]): BacktestSummary {
  return {
    plan: { fromOn: '2025-06-01', toOn: '2025-09-01', stepDays: 30, horizonDays: 90 },
    origins: [...new Set(forecasts.map(({ asOfOn }) => asOfOn))].sort(),
    followedToOn: '2026-06-01',
    entryDelayDays: 9,
    refused: 2,
    gone: 1,
    unplaced: 0,
    scores: (['battery', 'starter'] as const).map((component) =>
      scoresOf(component, forecasts, { horizonDays: 90, seed: 1, draws: 40 }),
    ),
    months: pullMonths(forecasts, 90),
  };
}
