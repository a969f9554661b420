import { dateOf } from '../model/time.ts';
import type { Trend, TrendStanding } from '../model/trend.ts';
import { mannKendall } from '../stats/mann-kendall.ts';
import { median } from '../stats/quantile.ts';
import { theilSenSlope } from '../stats/theil-sen.ts';
import type { CorrectedSeries } from './correction.ts';
import { lineFit } from './line.ts';
import { weeklyMedians } from './weekly-medians.ts';

export const DAYS_PER_YEAR = 365.25;
/** Fewer are no trend: two months of weeks, twenty days with a value. Convention of this program. */
export const LEAST_WEEKS = 8;
export const LEAST_DAYS = 20;
/** What is older says how the part was, not where it is going. Convention of this program. */
const SLOPE_DAYS = 365;
/** Level: median of the newest days. */
const LEVEL_DAYS = 28;

export type Drift = Pick<
  Trend,
  | 'level'
  | 'slopePerYear'
  | 'slopeLow'
  | 'slopeHigh'
  | 'senSlopePerYear'
  | 'pValue'
  | 'n'
  | 'sinceOn'
  | 'residual'
  | 'standing'
> & {
  /** Standard error of the slope before shrinking, per year. */
  slopeError: number | null;
};

/** Level, slope and their uncertainty from a day on; the reason where there is too little. */
export function driftOf(series: CorrectedSeries | null, fromDay: number, silent: TrendStanding | null): Drift {
  if (series === null) return NOT_RECORDED;
  let from = 0;
  while (from < series.day.length && series.day[from]! < fromDay) from++;
  const day = series.day.subarray(from);
  const value = series.corrected.subarray(from);
  const n = day.length;
  const sinceOn = n > 0 ? dateOf(day[0]!) : null;
  if (silent !== null && n > 0) return refused(silent, n, sinceOn); // as `whereSilent`, before the work
  const weeks = weeklyMedians(day, value);
  if (n < LEAST_DAYS || weeks.day.length < LEAST_WEEKS) return refused('too_few_points', n, sinceOn);
  const last = day[n - 1]!;
  const recent = weeks.day.findIndex((each) => each >= last - SLOPE_DAYS);
  const x = weeks.day.subarray(recent).map((each) => (each - last) / DAYS_PER_YEAR);
  const y = weeks.value.subarray(recent);
  if (x.length < LEAST_WEEKS) return refused('too_few_points', n, sinceOn);
  const line = lineFit(x, y);
  const senSlope = theilSenSlope(x, y);
  // Dropouts and retries are often 0 throughout: no trend, and no rank test either.
  const constant = y.every((value) => value === y[0]);
  const pValue = constant ? 1 : mannKendall(y, { slope: senSlope * meanStep(x) }).correctedPValue;
  return {
    level: newestLevel(day, value),
    slopePerYear: line.slope,
    slopeLow: line.slope - 1.96 * line.slopeError,
    slopeHigh: line.slope + 1.96 * line.slopeError,
    senSlopePerYear: senSlope,
    pValue,
    n,
    sinceOn,
    residual: line.residual,
    standing: 'ok',
    slopeError: line.slopeError,
  };
}

/** Where nothing was heard for long, what was before says nothing of now. */
export function whereSilent(drift: Drift, silent: TrendStanding | null): Drift {
  return silent !== null && drift.n > 0 ? refused(silent, drift.n, drift.sinceOn) : drift;
}

export const NOT_RECORDED: Drift = refused('not_recorded', 0, null);

function meanStep(x: Float64Array): number {
  return (x[x.length - 1]! - x[0]!) / (x.length - 1);
}

function newestLevel(day: Int32Array, value: Float64Array): number {
  let from = day.length - 1;
  while (from > 0 && day[from - 1]! > day[day.length - 1]! - LEVEL_DAYS) from--;
  return median(value.subarray(from));
}

function refused(standing: TrendStanding, n: number, sinceOn: string | null): Drift {
  const none = {
    level: null,
    slopePerYear: null,
    slopeLow: null,
    slopeHigh: null,
    senSlopePerYear: null,
    pValue: null,
  };
  return { ...none, n, sinceOn, residual: null, standing, slopeError: null };
}
