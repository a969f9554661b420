import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { batterySteps } from '../../etl/trends/battery-steps.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';

const FROM = '2024-03-01';
const EXCHANGED = 300;
const stepsOf = (engine: Partial<InventedEngine>, rest?: (day: number) => number) => {
  const table = inventedCranks({ seed: 1, fromOn: FROM, days: 600, ...engine });
  if (rest !== undefined)
    table.columns.restVolts.forEach((volts, row, column) => (column[row] = volts + rest(Math.floor(row / 3))));
  return batterySteps(dailyMedians(table, Infinity)).map(({ day, size }) => ({ day: day - dayNumber(FROM), size }));
};
/** Wears by a half within 300 days, then is new again. */
const worn = (day: number) => -0.6 + (day < EXCHANGED ? 0.5 * (day / EXCHANGED) ** 2 : 0);
const volts = (day: number) => (day < EXCHANGED ? 10.4 - 0.8 * (day / EXCHANGED) ** 2 : 10.5);

describe('steps of a battery', () => {
  it('show the day on which a worn one was exchanged, and by how much the new one is better', () => {
    for (const seed of [1, 2, 3]) {
      const [step, ...more] = stepsOf({ seed, logSag: worn, crankVolts: volts });
      expect(more).toEqual([]);
      expect(Math.abs(step!.day - EXCHANGED)).toBeLessThanOrEqual(1);
      expect(step!.size).toBeCloseTo(-0.45, 1);
    }
  });

  it('are not made of season, wear or nothing at all', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      expect(stepsOf({ seed, swingC: 25 })).toEqual([]);
      expect(stepsOf({ seed, swingC: 25, withTemperature: false })).toEqual([]);
      expect(stepsOf({ seed, logSag: (day) => -0.6 + 0.001 * day })).toEqual([]);
    }
  });

  it('are not made of another logger, whether or not the log says its rate', () => {
    const slower = { sagOffset: (day: number) => (day < EXCHANGED ? 0 : -0.45) };
    expect(stepsOf({ ...slower, rateHz: (day) => (day < EXCHANGED ? 100 : 20) })).toEqual([]);
    expect(stepsOf({ ...slower, rateHz: () => Number.NaN })).toEqual([]);
  });

  it('are not made of a bank that was charged again, as after a new alternator', () => {
    const charged = (day: number) => (day < EXCHANGED ? -0.6 : 0);
    expect(stepsOf({ logSag: worn, crankVolts: volts }, charged)).toEqual([]);
  });

  it('are not made of clean cables, which raise the ratio', () => {
    expect(stepsOf({ logSag: (day) => (day < EXCHANGED ? -0.6 : -0.2) })).toEqual([]);
  });

  it('wait for six weeks of the new level, but for the fall of a worn part, which waits for a week of days', () => {
    const less = (day: number) => -0.6 + (day < EXCHANGED ? 0.35 * (day / EXCHANGED) ** 2 : 0);
    expect(stepsOf({ logSag: less, crankVolts: volts, days: EXCHANGED + 30 })).toEqual([]);
    expect(stepsOf({ logSag: less, crankVolts: volts, days: EXCHANGED + 50 })).toHaveLength(1);
    expect(stepsOf({ logSag: worn, crankVolts: volts, days: EXCHANGED + 5 })).toEqual([]);
    const [step, ...more] = stepsOf({ logSag: worn, crankVolts: volts, days: EXCHANGED + 14 });
    expect(more).toEqual([]);
    expect(Math.abs(step!.day - EXCHANGED)).toBeLessThanOrEqual(1);
  });

  it('are seen as soon after the log began', () => {
    const early = {
      logSag: (day: number) => (day < 12 ? -0.1 : -0.6),
      crankVolts: (day: number) => (day < 12 ? 9.6 : 10.5),
    };
    expect(stepsOf(early)).toHaveLength(1);
    expect(stepsOf({ logSag: (day) => (day < 12 ? -0.3 : -0.6), crankVolts: early.crankVolts })).toEqual([]);
  });

  it('are not made at the end of a log by a spell of weather', () => {
    for (const seed of [1, 2, 3, 4, 5])
      for (const days of [200, 240, 290]) expect(stepsOf({ seed, days, swingC: 25, noise: 0.1 })).toEqual([]);
  });
});
