/**
 * The last day before another on which the engine was turned: up to then battery, starter, cables and control worked.
 *
 * For: a failure happened after it and by the day of its repair, on neither of the two for certain. The day itself does
 * not count, since a day's cranks may lie before the trouble or behind the repair. Day numbers; null for none.
 */
import type { DailyMedians } from './daily-medians.ts';

export function lastGoodCrank({ day, values }: DailyMedians, before: number): number | null {
  const turned = (row: number) =>
    [values.crank_volts, values.crank_seconds, values.crank_rpm].some((column) => !Number.isNaN(column?.[row] ?? NaN));
  for (let row = day.length - 1; row >= 0; row--) if (day[row]! < before && turned(row)) return day[row]!;
  return null;
}
