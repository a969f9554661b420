/**
 * Mann–Kendall test for a monotone trend, plain and corrected for autocorrelation.
 *
 * For: is the drift of an indicator more than chance? Neighbouring weeks resemble each other, and the plain test takes
 * that for evidence; `correctedPValue` is the one to show. Valid for values in order of time, at least MIN_POINTS of
 * them and not all equal. No unit.
 * Plain: S = rising minus falling pairs, variance with ties (Kendall 1975), z with continuity.
 * Corrected: Hamed & Rao 1998. The series is detrended by its Theil–Sen slope and ranked; the variance is multiplied by
 * 1 + 2/(n(n−1)(n−2))·Σ (n−i)(n−i−1)(n−i−2)·r(i) over the lags i whose rank autocorrelation r(i) is significant at 5 %
 * (|r| > 1.96/√n). Lag rule: lags 1 to ⌊n^(1/3)⌋ only, and a factor below 1 counts as 1. The authors took all n − 1 lags,
 * among which a twentieth is significant by chance alone, and negative ones at far lags can shrink the variance to
 * almost nothing: `maxLag: n − 1` gives theirs. Lags count observations, so the series should be evenly spaced.
 * Throws StatisticsRefusal for unequal lengths, times not ascending, a value that is not finite, too few points.
 * Time grows with n².
 *
 * @example mannKendall(Float64Array.of(1, 2, 3, 4, 5, 16, 7)) // { score: 19, variance: 44.33, z: 2.703, … }
 */
import { kendallVariance } from './kendall-variance.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { StatisticsRefusal } from './refusal.ts';
import { theilSenSlope } from './theil-sen.ts';

export type MannKendall = {
  /** S: rising minus falling pairs. */
  score: number;
  variance: number;
  z: number;
  /** Two-sided. */
  pValue: number;
  correctedVariance: number;
  correctedZ: number;
  correctedPValue: number;
};

export type MannKendallOptions = {
  /** Ascending; 0, 1, 2, … where absent. Used only to take out the trend before the autocorrelation. */
  times?: Float64Array;
  /** Theil–Sen slope over these times, where the caller has it already. */
  slope?: number;
  maxLag?: number;
};

/** Three lags' worth of triples must exist for the correction; below four points no order is significant anyway. */
const MIN_POINTS = 4;

export function mannKendall(y: Float64Array, options: MannKendallOptions = {}): MannKendall {
  const n = y.length;
  const times = options.times ?? Float64Array.from({ length: n }, (_, i) => i);
  check(y, times);
  const variance = kendallVariance(y);
  if (variance === 0) throw new StatisticsRefusal('mannKendall', 'values that are not all equal', y[0]!, 'y');
  const score = kendallScore(y);
  const slope = options.slope ?? theilSenSlope(times, y);
  const ranks = midranks(y.map((value, i) => value - slope * times[i]!));
  const correctedVariance = variance * Math.max(1, hamedRaoFactor(ranks, options.maxLag ?? Math.floor(Math.cbrt(n))));
  return { score, variance, ...tested(score, variance), correctedVariance, ...corrected(score, correctedVariance) };
}

function tested(score: number, variance: number): { z: number; pValue: number } {
  const z = (score - Math.sign(score)) / Math.sqrt(variance);
  return { z, pValue: 2 * normalCdf(-Math.abs(z)) };
}

function corrected(score: number, variance: number): { correctedZ: number; correctedPValue: number } {
  const { z, pValue } = tested(score, variance);
  return { correctedZ: z, correctedPValue: pValue };
}

function kendallScore(y: Float64Array): number {
  let score = 0;
  for (let i = 1; i < y.length; i++) {
    for (let j = 0; j < i; j++) score += Math.sign(y[i]! - y[j]!);
  }
  return score;
}

/** Ranks from 1, equal values sharing the mean of theirs. */
function midranks(values: Float64Array): Float64Array {
  const order = Uint32Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Float64Array(values.length);
  for (let from = 0; from < order.length;) {
    let to = from;
    while (to < order.length && values[order[to]!] === values[order[from]!]) to++;
    for (let i = from; i < to; i++) ranks[order[i]!] = (from + 1 + to) / 2;
    from = to;
  }
  return ranks;
}

function hamedRaoFactor(ranks: Float64Array, maxLag: number): number {
  const n = ranks.length;
  const mean = (n + 1) / 2;
  const limit = normalQuantile(0.975) / Math.sqrt(n);
  const total = ranks.reduce((sum, rank) => sum + (rank - mean) ** 2, 0);
  if (total === 0) return 1;
  let sum = 0;
  for (let lag = 1; lag <= Math.min(maxLag, n - 3); lag++) {
    let product = 0;
    for (let i = lag; i < n; i++) product += (ranks[i]! - mean) * (ranks[i - lag]! - mean);
    const autocorrelation = product / total;
    if (Math.abs(autocorrelation) > limit) sum += (n - lag) * (n - lag - 1) * (n - lag - 2) * autocorrelation;
  }
  return 1 + (2 * sum) / (n * (n - 1) * (n - 2));
}

function check(y: Float64Array, times: Float64Array): void {
  const what = 'mannKendall';
  if (y.length < MIN_POINTS) throw new StatisticsRefusal(what, `at least ${MIN_POINTS} points`, y.length, 'y');
  if (times.length !== y.length)
    throw new StatisticsRefusal(what, `${y.length} times, one a value`, times.length, 'times');
  for (let i = 0; i < y.length; i++) {
    if (!Number.isFinite(y[i])) throw new StatisticsRefusal(what, 'finite values', y[i]!, `y[${i}]`);
    if (i > 0 && !(times[i]! > times[i - 1]!)) {
      throw new StatisticsRefusal(what, 'ascending times', `${times[i - 1]} then ${times[i]}`, `times[${i}]`);
    }
  }
}
