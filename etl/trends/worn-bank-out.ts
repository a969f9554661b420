/**
 * Did a worn bank come out in the days after a starter was exchanged?
 *
 * For: a starter fitted to an engine that a worn battery could not turn. The next man fits the battery, writes it under
 * the same order or nowhere, and two faults are told where there was one. A new starter has no more resistance than
 * the worn one that it replaces, so that the sag ratio of the inrush stays or rises; where it falls by what a worn bank
 * had more than its successor, the bank was changed. False with fewer than six days on either side.
 */
import { median } from '../stats/quantile.ts';
import type { DailyMedians } from './daily-medians.ts';
import { sagAtReference } from './sag-in-the-cold.ts';
import { NOT_WORN_OUT } from './sound-bank.ts';

const MONTH_DAYS = 30;
/** Within so many days the right part is fitted, or never. Convention of this program. */
const SETTLED_DAYS = 7;
const LEAST_DAYS = 6;

export function wornBankOut({ day, stratum, tempC, values }: DailyMedians, exchanged: number): boolean {
  const sag = values.log_sag_ratio;
  const last = day.findLastIndex((each) => each < exchanged);
  if (sag === undefined || last < 0) return false;
  const month = (from: number) => {
    const found: number[] = [];
    for (let row = 0; row < day.length; row++) {
      if (day[row]! < from || day[row]! >= from + MONTH_DAYS || stratum[row] !== stratum[last]) continue;
      const value = sagAtReference(sag[row]!, tempC[row]!);
      if (!Number.isNaN(value)) found.push(value);
    }
    return found;
  };
  const [before, after] = [month(exchanged - MONTH_DAYS), month(exchanged + SETTLED_DAYS)];
  if (before.length < LEAST_DAYS || after.length < LEAST_DAYS) return false;
  return median(after) - median(before) <= NOT_WORN_OUT;
}
