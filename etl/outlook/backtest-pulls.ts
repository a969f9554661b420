import type { BacktestForecast, PullMonth, PullScores } from '../model/backtest.ts';
import { groupBy } from '../model/group-by.ts';
import { dateOf, dayNumber } from '../model/time.ts';
import { pullOutcome, type PullOutcome } from '../stats/pull-outcome.ts';
import { quantile } from '../stats/quantile.ts';
import { isScored } from './backtest-columns.ts';
import { partPlace } from './backtest-outcome.ts';

/**
 * A forecast calls for a part when the early end of its window, the 10 % point, lies within the horizon. What a needless
 * pull costs against a failure is for the fleet's people to say; this rule only reads the forecast.
 */
export const CALLED_AT = 0.1;
/** Time enough to order a part and find a bay. Common practice. */
const FORTNIGHT_DAYS = 14;
const MONTH_DAYS = 365.25 / 12;

export function partKey(forecast: BacktestForecast): string {
  return `${partPlace(forecast)}\u0000${forecast.partSinceOn}`;
}

/** What came of each part, had it been pulled at its first call. */
export function pullOutcomes(forecasts: readonly BacktestForecast[], horizonDays: number): PullOutcome[] {
  return [...groupBy(forecasts.filter(isScored), partKey).values()].map((own) => {
    const sorted = own.toSorted((a, b) => Number(a.asOfOn > b.asOfOn) - Number(a.asOfOn < b.asOfOn));
    const last = sorted.at(-1)!;
    return pullOutcome(
      {
        forecastDay: Float64Array.from(sorted, ({ asOfOn }) => dayNumber(asOfOn)),
        called: Uint8Array.from(sorted, ({ pFail }) => Number(pFail >= CALLED_AT)),
        failedDay: last.failedOn === null ? null : dayNumber(last.failedOn),
        followedToDay: dayNumber(last.followedToOn),
      },
      horizonDays,
    );
  });
}

export function pullScores(forecasts: readonly BacktestForecast[], horizonDays: number): PullScores {
  const outcomes = pullOutcomes(forecasts, horizonDays);
  const count = (kind: PullOutcome['kind']) => outcomes.filter((each) => each.kind === kind).length;
  const lead = outcomes.flatMap((each) => (each.kind === 'hit' ? [each.leadDays] : []));
  const at = (p: number) => (lead.length === 0 ? null : quantile(lead, p));
  const months = watchedDays(forecasts) / MONTH_DAYS;
  return {
    calledAt: CALLED_AT,
    hits: lead.length,
    misses: count('miss'),
    needless: count('needless'),
    open: count('open'),
    leadDaysMedian: at(0.5),
    leadDaysLow: at(0.1),
    leadDaysHigh: at(0.9),
    leadFortnight: lead.length === 0 ? null : lead.filter((days) => days >= FORTNIGHT_DAYS).length / lead.length,
    needlessPer100UnitMonths: months === 0 ? null : (100 * count('needless')) / months,
  };
}

/** Days on which some forecast was being followed, over all places of a part. */
function watchedDays(forecasts: readonly BacktestForecast[]): number {
  let days = 0;
  for (const own of groupBy(forecasts.filter(isScored), partKey).values()) {
    const first = own.reduce((least, { asOfOn }) => (asOfOn < least ? asOfOn : least), own[0]!.asOfOn);
    days += dayNumber(own[0]!.followedToOn) - dayNumber(first);
  }
  return days;
}

/** Hits, needless and open pulls by the month of the pull, misses by the month of the failure; months without any are left out. */
export function pullMonths(forecasts: readonly BacktestForecast[], horizonDays: number): PullMonth[] {
  const rows = new Map<string, PullMonth>();
  for (const [component, own] of groupBy(forecasts, (each) => each.component))
    for (const outcome of pullOutcomes(own, horizonDays)) {
      if (outcome.kind === 'none') continue;
      const month = dateOf(outcome.day).slice(0, 7);
      const blank = { month, component, hits: 0, misses: 0, needless: 0, open: 0 };
      const row = rows.get(`${month} ${component}`) ?? blank;
      row[({ hit: 'hits', miss: 'misses', needless: 'needless', open: 'open' } as const)[outcome.kind]]++;
      rows.set(`${month} ${component}`, row);
    }
  return [...rows].sort(([a], [b]) => Number(a > b) - Number(a < b)).map(([, row]) => row);
}
