import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { lastGoodCrank } from '../../etl/trends/last-good-crank.ts';
import { voltageWitness } from '../../etl/voltage-witness.ts';
import { inventedCranks } from '../support/invented-cranks.ts';
import { unit } from '../support/units.ts';

const FROM = '2024-03-01';
const first = dayNumber(FROM);
const daily = dailyMedians(inventedCranks({ seed: 1, fromOn: FROM, days: 20 }), Infinity);

describe('the last good crank before a day', () => {
  it('is of the day before, never of the day itself', () => expect(lastGoodCrank(daily, first + 10)).toBe(first + 9));

  it('is the last of all behind the end of the log, none before its beginning', () => {
    expect(lastGoodCrank(daily, first + 500)).toBe(first + 19);
    expect(lastGoodCrank(daily, first)).toBeNull();
  });

  it('passes over days on which nothing turned', () => {
    const clicked = { ...daily, values: { crank_volts: daily.values.crank_volts!.slice() } };
    clicked.values.crank_volts.fill(Number.NaN, 7, 10);
    expect(lastGoodCrank(clicked, first + 10)).toBe(first + 6);
  });

  it('is asked of the engine’s own log; without one nothing is known', () => {
    const state = { unit: unit(), position: 'left', class: 'van', firstSeenOn: FROM, lastDay: first + 19 };
    const nothing = { series: {}, lives: [], silent: null, batterySteps: [] };
    const { lastGoodCrank: asked } = voltageWitness([
      { ...state, ...nothing, daily },
      { ...state, ...nothing, position: 'right', daily: null },
    ]);
    expect(asked!(unit().unit, 'left', first + 10)).toBe(first + 9);
    expect(asked!(unit().unit, 'right', first + 10)).toBeNull();
    expect(asked!(unit().unit, '', first + 10)).toBeNull();
  });
});
