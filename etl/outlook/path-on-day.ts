/**
 * A condition path as it stood on a day. What is learnt from a day of the past and what is forecast today must see the
 * same: a point of three weeks that are not over was no such point then.
 */
import { INDEX_DAYS } from '../trends/indicator-summary.ts';
import { NEWEST_DAYS } from '../trends/newest-weeks.ts';
import type { Weekly } from '../trends/weekly-medians.ts';
import { LEAST_POINTS } from './condition-trust.ts';

/** A path whose last point is older says nothing of now: a month of silence after three weeks of a point. */
const FRESH_DAYS = 51;

/** The index over the newest three weeks, dated at the mean of their days, the newest of which is `lastDay`. */
export type NewestPoint = { value: number; day: number; lastDay: number };

/** Of the whole three weeks only those that are over, then the newest ones; null where that says nothing of the day. */
export function pathOnDay(path: Weekly, onDay: number, newest: NewestPoint | null): Weekly | null {
  const whole = newest === null ? onDay : Math.min(onDay, lastBefore(newest));
  let count = path.day.length;
  while (count > 0 && lastDayOf(path.day[count - 1]!) > whole) count--;
  const lastDay = newest?.day ?? path.day[count - 1]!;
  if (count + (newest === null ? 0 : 1) < LEAST_POINTS || onDay - lastDay > FRESH_DAYS) return null;
  const [day, value] = [path.day.subarray(0, count), path.value.subarray(0, count)];
  return newest === null ? { day, value } : { day: followed(day, newest.day), value: followed(value, newest.value) };
}

function followed(values: Float64Array, last: number): Float64Array {
  const all = new Float64Array(values.length + 1);
  all.set(values);
  all[values.length] = last;
  return all;
}

/** A point half of whose days are among the newest three weeks would count them twice. */
function lastBefore({ lastDay }: NewestPoint): number {
  return lastDay - NEWEST_DAYS / 2;
}

/** A point is dated within its three weeks: one that ends after the day holds what came later. */
function lastDayOf(day: number): number {
  return (Math.floor(day / INDEX_DAYS) + 1) * INDEX_DAYS - 1;
}
