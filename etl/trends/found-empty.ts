/**
 * Was a bank that was exchanged for a no-start only empty?
 *
 * For: telling a battery that somebody ran flat from one that failed, where the record says "battery dead" of both. Yes
 * if its rest level on that day was that of an empty bank (not lower, as with a lost cell), and the new one changed
 * nothing: neither the sag ratio nor the level overnight is better in the month after than it was in the month before. A
 * worn bank would have sagged deeper, one that had lost its capacity would have stood lower.
 * False where the log does not reach: no crank on the day, or fewer than six days on either side.
 */
import { median } from '../stats/quantile.ts';
import type { DailyMedians } from './daily-medians.ts';
import { sagAtReference } from './sag-in-the-cold.ts';

/** Rested volts of a 12 V battery: a quarter charged; empty less a meter's 1 % (TM 5-3805-262-20, state of charge). */
const QUARTER_CHARGED = 12;
const LEAST_WITH_ALL_CELLS = 11.6;
const MONTH_DAYS = 30;
const LEAST_DAYS = 6;
/** Changes below are none: an eighth of the ratio, a tenth of a volt in 12. Conventions of this program. */
const NO_LESS_SAG = -0.12;
const NO_MORE_REST = 0.1;

export function foundEmpty(daily: DailyMedians, systemVolts: number, day: number): boolean {
  const row = daily.day.indexOf(day);
  const twelfth = systemVolts / 12;
  const rest = row < 0 ? Number.NaN : daily.restAtCrank[row]! / twelfth;
  if (!(rest >= LEAST_WITH_ALL_CELLS && rest <= QUARTER_CHARGED)) return false;
  const sag = changeOver(daily, day, (at) =>
    sagAtReference(daily.values.log_sag_ratio?.[at] ?? Number.NaN, daily.tempC[at]!),
  );
  const overnight = changeOver(daily, day, (at) => (daily.values.rest_volts?.[at] ?? Number.NaN) / twelfth);
  return sag !== null && overnight !== null && sag > NO_LESS_SAG && overnight < NO_MORE_REST;
}

/** Median of the month after less that of the month before, the days next to it left out; null for too few. */
function changeOver({ day, stratum }: DailyMedians, at: number, valueOf: (row: number) => number): number | null {
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
  return before.length < LEAST_DAYS || after.length < LEAST_DAYS ? null : median(after) - median(before);
}
