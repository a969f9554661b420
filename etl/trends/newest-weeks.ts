/**
 * The newest three weeks of an indicator as they stood on a day: the median of the days up to the newest that was seen.
 *
 * For: the last point of a path. Three weeks that are counted off from a fixed day have only just begun on one day and
 * are nearly over on another; a median of two days has four times the scatter of one of twenty, and passes for wear.
 */
import { median } from '../stats/quantile.ts';
import type { Look } from './recent-reading.ts';

/** Three weeks. */
export const NEWEST_DAYS = 21;

/** The value, the mean of the days that it is made of, and the newest of them. */
export type NewestWeeks = { value: number; day: number; lastDay: number };

/** Null where nothing of the part was seen by then. */
export function newestWeeksOn(day: Int32Array, value: Float64Array, { fromDay, onDay }: Look): NewestWeeks | null {
  const to = placeOf(day, onDay + 1);
  const lastDay = day[to - 1];
  if (lastDay === undefined || lastDay < fromDay) return null;
  const from = placeOf(day, Math.max(fromDay, lastDay - NEWEST_DAYS + 1));
  const sum = day.subarray(from, to).reduce((total, each) => total + each, 0);
  return { value: median(value.subarray(from, to)), day: sum / (to - from), lastDay };
}

/** How many of the days, which rise, come before one. */
function placeOf(days: Int32Array, before: number): number {
  let [low, high] = [0, days.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (days[middle]! < before) low = middle + 1;
    else high = middle;
  }
  return low;
}
