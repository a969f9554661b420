import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { wornBankOut } from '../../etl/trends/worn-bank-out.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';

const FROM = '2024-03-01';
const DAY = 60;

/** A starter exchanged on day 60 of an engine whose log sag ratio goes so. */
function cameOut(logSag: (day: number) => number, engine: Partial<InventedEngine> = {}): boolean {
  const table = inventedCranks({ seed: 1, fromOn: FROM, days: 120, logSag, ...engine });
  return wornBankOut(dailyMedians(table, Infinity), dayNumber(FROM) + DAY);
}

describe('a worn bank after a new starter', () => {
  it('came out where the sag falls by half of the resistance, on the day or within the week', () => {
    expect(cameOut((day) => (day < DAY ? 0 : -0.45))).toBe(true);
    expect(cameOut((day) => (day < DAY + 5 ? 0 : -0.45))).toBe(true);
  });
  it('stayed where nothing falls, or by no more than a sound one', () => {
    expect(cameOut(() => -0.4)).toBe(false);
    expect(cameOut((day) => (day < DAY ? 0 : -0.25))).toBe(false);
  });
  it('stayed where the sag rose with the new starter and fell back when the bank was changed later', () => {
    expect(cameOut((day) => (day >= DAY && day < DAY + 14 ? 0.2 : -0.3))).toBe(false);
  });
  it('cannot be told where the log ends too soon', () => {
    expect(cameOut((day) => (day < DAY ? 0 : -0.45), { days: DAY + 10 })).toBe(false);
  });
});
