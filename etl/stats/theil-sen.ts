/**
 * Theil–Sen slope: the median of the slopes of all pairs of points.
 *
 * For: the trend of an indicator without assumptions on its scatter; a quarter of the points may be wild.
 * Valid for finite values; points of equal time give no slope. Slope in the unit of y over the unit of t.
 * Interval: Sen 1968, the slopes at ranks (N ∓ z·√Var S)/2, interpolated between ranks, for independent points.
 * Intercept: Conover 1980, median(y) − slope·median(t). With so few points that a rank lies outside the N slopes
 * the interval is unbounded on that side (±Infinity).
 * Throws StatisticsRefusal for unequal lengths, a value that is not finite, fewer than two different times, more than
 * MAX_POINTS points, a confidence outside 0 to 1. Time and memory grow with n²: 800 points make 319,600 slopes.
 *
 * @example theilSen(Float64Array.of(1, 2, 3, 4, 5, 6, 7), Float64Array.of(1, 2, 3, 4, 5, 16, 7)).slope // 1
 */
import { kendallVariance } from './kendall-variance.ts';
import { normalQuantile } from './normal.ts';
import { orderStatistic } from './order-statistic.ts';
import { median } from './quantile.ts';
import { StatisticsRefusal } from './refusal.ts';

export type TheilSen = { slope: number; intercept: number; low: number; high: number };

/** 8 million slopes, 64 MB: weekly medians of 76 years. A longer series is thinned to medians by the caller. */
const MAX_POINTS = 4000;

export function theilSen(t: Float64Array, y: Float64Array, confidence = 0.95): TheilSen {
  check(t, y, confidence);
  const slopes = pairSlopes(t, y);
  if (slopes.length === 0) throw new StatisticsRefusal('theilSen', 'two different times', 'none', 't');
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(kendallVariance(y));
  const slope = atRank(slopes, (slopes.length + 1) / 2);
  return {
    slope,
    intercept: median(y) - slope * median(t),
    low: atRank(slopes, (slopes.length - reach) / 2),
    high: atRank(slopes, (slopes.length + reach) / 2 + 1),
  };
}

/** The slope alone: a third of the time. */
export function theilSenSlope(t: Float64Array, y: Float64Array): number {
  check(t, y, 0.95);
  const slopes = pairSlopes(t, y);
  if (slopes.length === 0) throw new StatisticsRefusal('theilSen', 'two different times', 'none', 't');
  return atRank(slopes, (slopes.length + 1) / 2);
}

function pairSlopes(t: Float64Array, y: Float64Array): Float64Array {
  const slopes = new Float64Array((t.length * (t.length - 1)) / 2);
  let count = 0;
  for (let i = 1; i < t.length; i++) {
    for (let j = 0; j < i; j++) {
      const run = t[i]! - t[j]!;
      if (run !== 0) slopes[count++] = (y[i]! - y[j]!) / run;
    }
  }
  return slopes.subarray(0, count);
}

/** Value at a 1-based rank, interpolated; ∓Infinity before the first and after the last. Reorders the values. */
function atRank(values: Float64Array, rank: number): number {
  if (rank < 1) return -Infinity;
  if (rank > values.length) return Infinity;
  const below = Math.floor(rank) - 1;
  const low = orderStatistic(values, below);
  if (rank === below + 1) return low;
  return low + (rank - below - 1) * (orderStatistic(values, below + 1) - low);
}

function check(t: Float64Array, y: Float64Array, confidence: number): void {
  const what = 'theilSen';
  if (t.length !== y.length) throw new StatisticsRefusal(what, `${t.length} values, one a time`, y.length, 'y');
  if (t.length > MAX_POINTS) throw new StatisticsRefusal(what, `at most ${MAX_POINTS} points`, t.length, 't');
  if (!(confidence > 0 && confidence < 1)) {
    throw new StatisticsRefusal(what, 'a confidence between 0 and 1', confidence, 'confidence');
  }
  for (let i = 0; i < t.length; i++) {
    if (!Number.isFinite(t[i])) throw new StatisticsRefusal(what, 'finite times', t[i]!, `t[${i}]`);
    if (!Number.isFinite(y[i])) throw new StatisticsRefusal(what, 'finite values', y[i]!, `y[${i}]`);
  }
}
