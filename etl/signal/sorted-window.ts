import { orderStatistic } from '../stats/order-statistic.ts';

/**
 * Median and median absolute deviation of a window of samples, without allocating: for windows of some hundred values.
 * Longer windows are thinned evenly to `MOST` values.
 *
 *     windowMedian(Float64Array.of(3, 1, 2, 9), 0, 3) → 2
 */
const MOST = 512;
const scratch = new Float64Array(MOST);

/** Copies values[from, to) into the scratch, thinned, missing values left out; returns how many. */
function gather(values: Float64Array, from: number, to: number): number {
  const stride = Math.max(1, (to - from) / MOST);
  let count = 0;
  for (let at = from; at < to && count < MOST; at += stride) {
    const value = values[Math.floor(at)]!;
    if (value === value) scratch[count++] = value;
  }
  return count;
}

function middle(count: number): number {
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  const upper = orderStatistic(scratch, half, count);
  if (count % 2 === 1) return upper;
  // None before that index is greater.
  let lower = scratch[0]!;
  for (let i = 1; i < half; i++) if (scratch[i]! > lower) lower = scratch[i]!;
  return (lower + upper) / 2;
}

/** Median of some values, at most `MOST`; NaN if there are none. */
export function medianOf(values: readonly number[]): number {
  const count = Math.min(values.length, MOST);
  for (let i = 0; i < count; i++) scratch[i] = values[i]!;
  return middle(count);
}

/** Median of values[from, to); NaN if nothing is there. */
export function windowMedian(values: Float64Array, from: number, to: number): number {
  return middle(gather(values, from, to));
}

/** The level that a tenth of values[from, to) lies above; NaN if nothing is there. */
export function windowHigh(values: Float64Array, from: number, to: number): number {
  const count = gather(values, from, to);
  return count === 0 ? Number.NaN : orderStatistic(scratch, Math.floor(count * 0.9), count);
}

/** Median absolute deviation from `centre`, times 1.4826: the standard deviation if the noise is normal. */
export function windowNoise(values: Float64Array, from: number, to: number, centre: number): number {
  const count = gather(values, from, to);
  for (let i = 0; i < count; i++) scratch[i] = Math.abs(scratch[i]! - centre);
  return 1.4826 * middle(count);
}

/** Smallest step between unequal neighbours of values[from, to): the sensor's, if it is coarse; 0 if all are equal. */
export function windowStep(values: Float64Array, from: number, to: number): number {
  let step = Infinity;
  const first = Math.max(from + 1, to - MOST);
  for (let i = first; i < to; i++) {
    const change = Math.abs(values[i]! - values[i - 1]!);
    if (change > 1e-6 && change < step) step = change;
  }
  return step === Infinity ? 0 : step;
}
