import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { foundEmpty } from '../../etl/trends/found-empty.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';

const FROM = '2024-03-01';
const DAY = 60;

/** An engine exchanged on day 60, with what its bank rested at on that day, before and after. */
function empty(volts: { on: number; before?: number; after?: number }, engine: Partial<InventedEngine> = {}): boolean {
  const table = inventedCranks({ seed: 1, fromOn: FROM, days: 120, ...engine });
  table.columns.restVolts.forEach((_, row, column) => {
    const day = Math.floor(row / 3);
    column[row] = day === DAY ? volts.on : day < DAY ? (volts.before ?? 12.6) : (volts.after ?? 12.6);
  });
  return foundEmpty(dailyMedians(table, Infinity), 12, dayNumber(FROM) + DAY);
}

describe('a bank exchanged for a no-start', () => {
  it('was only empty where it stood low that day and the new one changed nothing', () => {
    expect(empty({ on: 11.8 })).toBe(true);
  });
  it('had lost a cell where it stood lower than an empty one', () => expect(empty({ on: 10.5 })).toBe(false));
  it('was not empty where it stood full', () => expect(empty({ on: 12.6 })).toBe(false));
  it('was worn where the new one sags less', () => {
    expect(empty({ on: 11.8 }, { logSag: (day) => (day < DAY ? 0 : -0.4) })).toBe(false);
  });
  it('had lost its capacity where the new one stands higher overnight', () => {
    expect(empty({ on: 11.8, before: 12.3, after: 12.6 })).toBe(false);
  });
  it('cannot be told where the log ends too soon, or there was no crank that day', () => {
    expect(empty({ on: 11.8 }, { days: DAY + 5 })).toBe(false);
    const table = inventedCranks({ seed: 1, fromOn: FROM, days: DAY });
    expect(foundEmpty(dailyMedians(table, Infinity), 12, dayNumber(FROM) + DAY)).toBe(false);
  });
});
