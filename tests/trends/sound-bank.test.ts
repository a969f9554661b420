import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { wasSound } from '../../etl/trends/sound-bank.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';

const FROM = '2024-03-01';
const DAY = 60;
type Rest = { on: number; before?: number; after?: number };

/** An engine exchanged on day 60: what its bank rested at on that day, before and after, and whether cranks were repeated. */
function sound(rest: Rest, engine: Partial<InventedEngine> = {}, repeated = true): boolean {
  const table = inventedCranks({ seed: 1, fromOn: FROM, days: 120, ...engine });
  const { restVolts, startUs, timeUs } = table.columns;
  for (let row = 0; row < table.count; row++) {
    const day = Math.floor(row / 3);
    restVolts[row] = day === DAY ? rest.on : day < DAY ? (rest.before ?? 12.6) : (rest.after ?? 12.6);
    if (day === DAY && repeated) startUs[row] = timeUs[row]! - 20e6;
  }
  return wasSound(dailyMedians(table, Infinity), 12, dayNumber(FROM) + DAY);
}
const sagOnTheDay = (more: number) => ({ logSag: (day: number) => -0.4 + (day === DAY ? more : 0) });

describe('a bank exchanged for a no-start', () => {
  it('was only empty where it stood low that day and the new one changed nothing', () => {
    expect(sound({ on: 11.8 })).toBe(true);
    expect(sound({ on: 11.8 }, sagOnTheDay(0.8))).toBe(true);
  });
  it('was sound where it stood charged through repeated cranks and the new one changed nothing', () => {
    expect(sound({ on: 12.6 }, sagOnTheDay(0.4))).toBe(true);
  });
  it('had failed where a charged one gave twice the sag', () => {
    expect(sound({ on: 12.6 }, sagOnTheDay(0.9))).toBe(false);
  });
  it('had lost a cell where it stood lower than an empty one', () => expect(sound({ on: 10.5 })).toBe(false));
  it('was worn where the new one sags less', () => {
    expect(sound({ on: 11.8 }, { logSag: (day) => (day < DAY ? 0 : -0.4) })).toBe(false);
  });
  it('had lost its capacity where the new one stands higher overnight', () => {
    expect(sound({ on: 11.8, before: 12.3, after: 12.6 })).toBe(false);
  });
  it('cannot be told where the log saw no trouble: what failed may not have been logged', () => {
    expect(sound({ on: 12.6 }, {}, false)).toBe(false);
  });
  it('cannot be told where the log ends too soon, or there was no crank that day', () => {
    expect(sound({ on: 11.8 }, { days: DAY + 5 })).toBe(false);
    const table = inventedCranks({ seed: 1, fromOn: FROM, days: DAY });
    expect(wasSound(dailyMedians(table, Infinity), 12, dayNumber(FROM) + DAY)).toBe(false);
  });
});
