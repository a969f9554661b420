/**
 * Was a bank that was exchanged for a no-start sound all the same?
 *
 * For: telling a battery that failed from one that was run flat, or that only could not turn a stiff engine in the
 * cold, where the record says "battery dead" of all three. Yes if the log saw the trouble of that day and the bank
 * stood through it as a sound one does (no cell lost; charged and less than twice its resistance, or empty), and if
 * the new one changed little: neither the sag ratio nor the level overnight is much better in the month after than in
 * the month before. A worn bank would have sagged deeper, one that had lost its capacity would have stood lower.
 * False where the log does not reach: no trouble in it on the day, or fewer than six days on either side.
 */
import { median } from '../stats/quantile.ts';
import type { DailyMedians } from './daily-medians.ts';
import { sagAtReference } from './sag-in-the-cold.ts';

/** Rested volts of a 12 V battery: a quarter charged; empty less a meter's 1 % (TM 5-3805-262-20, state of charge). */
const QUARTER_CHARGED = 12;
const LEAST_WITH_ALL_CELLS = 11.6;
/** Twice the resistance: worn out (from memory). An empty bank may have it and be charged again. */
const TWICE = Math.LN2;
const MONTH_DAYS = 30;
const LEAST_DAYS = 6;
/** A battery is worn out at 1.5 times the resistance of a new one (from memory): below 1.35 times it was not. */
export const NOT_WORN_OUT = -Math.log(1.35);
/** A change below is none: a tenth of a volt in 12. Convention of this program. */
const NO_MORE_REST = 0.1;

export function wasSound(daily: DailyMedians, systemVolts: number, day: number): boolean {
  const twelfth = systemVolts / 12;
  const sagOf = (row: number) => sagAtReference(daily.values.log_sag_ratio?.[row] ?? Number.NaN, daily.tempC[row]!);
  const restOf = (row: number) => (daily.values.rest_volts?.[row] ?? Number.NaN) / twelfth;
  const row = daily.day.indexOf(day);
  if (row < 0) return false;
  const rest = daily.restAtCrank[row]! / twelfth;
  if (!(rest >= LEAST_WITH_ALL_CELLS)) return false;
  const sag = sidesOf(daily, day, sagOf);
  const overnight = sidesOf(daily, day, restOf);
  if (sag === null || overnight === null) return false;
  const stoodCharged = daily.retries[row]! > 0 && sagOf(row) - sag.before < TWICE;
  const stood = rest <= QUARTER_CHARGED || stoodCharged;
  return stood && sag.after - sag.before > NOT_WORN_OUT && overnight.after - overnight.before < NO_MORE_REST;
}

/** Medians of the month before and after, the days next to it left out; null for too few. */
function sidesOf(
  { day, stratum }: DailyMedians,
  at: number,
  valueOf: (row: number) => number,
): { before: number; after: number } | null {
  const own = stratum[day.indexOf(at)];
  const month = (from: number, to: number) => {
    const values: number[] = [];
    for (let row = 0; row < day.length; row++) {
      if (day[row]! < from || day[row]! >= to || stratum[row] !== own) continue;
      if (!Number.isNaN(valueOf(row))) values.push(valueOf(row));
    }
    return values;
  };
  const [before, after] = [month(at - MONTH_DAYS, at - 1), month(at + 2, at + 2 + MONTH_DAYS)];
  if (before.length < LEAST_DAYS || after.length < LEAST_DAYS) return null;
  return { before: median(before), after: median(after) };
}
