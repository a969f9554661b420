/**
 * What an engine's indicators showed of a part on one day, from what was seen by then: the newest fortnight, the newest
 * month, and the two months before that, each as the mean of its weekly medians in the indicator's own unit.
 *
 * For: the hazard's columns. The newest values say how the part stands, their distance to those before whether it moves
 * or has jumped. An indicator without a value in the last weeks says nothing of now and is left out.
 */
import type { Indicator } from '../model/words.ts';
import type { Weekly } from './weekly-medians.ts';

/** `before` is NaN where the part was not seen for so long. */
export type Reading = { fortnight: number; month: number; before: number };
export type Readings = Partial<Record<Indicator, Reading>>;

/** A day on which a reading is asked for, of a part watched since `fromDay`. */
export type Look = { fromDay: number; onDay: number };

const FORTNIGHT_WEEKS = 2;
const MONTH_WEEKS = 4;
/** Weeks that a reading looks back on. */
export const READING_WEEKS = 13;
/** Of a silence longer than the silence after which a logger is taken for silent, plus the week that a median spans. */
const FRESH_DAYS = 37;
const LEAST_WEEKS_BEFORE = 3;

/** null where nothing recent is there. */
export function readingOn({ day, value }: Weekly, { fromDay, onDay }: Look): Reading | null {
  let to = day.length;
  while (to > 0 && day[to - 1]! > onDay) to--;
  const first = Math.max(0, to - READING_WEEKS);
  let from = to;
  while (from > first && day[from - 1]! >= fromDay) from--;
  if (from === to || onDay - day[to - 1]! > FRESH_DAYS) return null;
  const before = to - MONTH_WEEKS;
  return {
    fortnight: meanOf(value, Math.max(from, to - FORTNIGHT_WEEKS), to),
    month: meanOf(value, Math.max(from, before), to),
    before: before - from < LEAST_WEEKS_BEFORE ? Number.NaN : meanOf(value, from, before),
  };
}

function meanOf(value: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k < to; k++) sum += value[k]!;
  return sum / (to - from);
}
