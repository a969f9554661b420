/**
 * Median, quantile and median absolute deviation.
 *
 * For: daily and weekly medians, robust level and noise. Valid for any finite values; the unit is that of the values.
 * Quantiles are of type 7 (Hyndman & Fan 1996): linear between order statistics, as in R.
 * Throws StatisticsRefusal for no values, a value that is not finite (NaN is missing and must be left out by the
 * caller, so that it is counted), or a probability outside 0 to 1. O(n).
 *
 * @example quantile(Float64Array.of(1, 2, 3, 4), 0.25) // 1.75
 * @example medianAbsoluteDeviation(Float64Array.of(1, 1, 2, 2, 4, 6, 9)) // 1
 */
import { FEW_VALUES, insertionSort } from './insertion-sort.ts';
import { normalQuantile } from './normal.ts';
import { orderStatistic } from './order-statistic.ts';
import { StatisticsRefusal } from './refusal.ts';

/** Standard deviation over median absolute deviation of a normal distribution, 1/Φ⁻¹(¾) = 1.4826. */
export const NORMAL_SD_PER_MAD = 1 / normalQuantile(0.75);

export function quantile(values: ArrayLike<number>, p: number): number {
  return checkedQuantile('quantile', values, p);
}

export function median(values: ArrayLike<number>): number {
  return checkedQuantile('median', values, 0.5);
}

/** Median of the distances from the median, in the unit of the values; times NORMAL_SD_PER_MAD it estimates an sd. */
export function medianAbsoluteDeviation(values: ArrayLike<number>): number {
  const middle = checkedQuantile('medianAbsoluteDeviation', values, 0.5);
  const apart = new Float64Array(values.length);
  for (let i = 0; i < apart.length; i++) apart[i] = Math.abs(values[i]! - middle);
  return median(apart);
}

function checkedQuantile(what: string, values: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new StatisticsRefusal(what, 'a probability from 0 to 1', p, 'p');
  const count = values.length;
  if (count === 0) throw new StatisticsRefusal(what, 'at least one value', 0, 'values');
  const work = count <= few.length ? few : new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const value = values[i]!;
    if (!Number.isFinite(value)) throw new StatisticsRefusal(what, 'finite values', value, `values[${i}]`);
    work[i] = value;
  }
  const place = p * (count - 1);
  const below = Math.floor(place);
  if (work === few) insertionSort(few, count);
  const low = work === few ? few[below]! : orderStatistic(work, below);
  if (place === below) return low;
  const high = work === few ? few[below + 1]! : orderStatistic(work, below + 1);
  return low + (place - below) * (high - low);
}

/** The values of a week or a month fit in here, used again and again: most medians are of so few. */
const few = new Float64Array(FEW_VALUES);
