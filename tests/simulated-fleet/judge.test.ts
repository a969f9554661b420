import { describe, expect, it } from 'vitest';
import type { BacktestForecast } from '../../etl/model/backtest.ts';
import { dateOfDay, dayOfDate } from './calendar.ts';
import { Draws } from './draws.ts';
import { figuresOf } from './judge/figures.ts';
import { judgedRows, SCORED, shareFailing, type JudgedRow, type Scored } from './judge/rows.ts';
import type { TrueLife } from './judge/truth.ts';

const ORIGIN = dayOfDate('2026-01-01');

/** Parts of a known chance, the outlook knowing `share` of what there is to know of it. */
function invented(count: number, outlookOf: (chance: number) => number): JudgedRow[] {
  const draws = new Draws(7, 'judge');
  return Array.from({ length: count }, (_, row) => {
    const chance = draws.chance(0.1) ? 0.7 : 0.02;
    const failed = draws.chance(chance);
    const score = Object.fromEntries(SCORED.map((name) => [name, 0.088])) as Record<Scored, number>;
    const p = outlookOf(chance);
    const days = failed ? draws.between(1, 90) : 91;
    return {
      fleet: 'a',
      unit: `a/${row}`,
      component: 'battery',
      origin: ORIGIN,
      days,
      failed,
      cause: '',
      score: { ...score, outlook: p, perfect: chance },
      u: 1 - (1 - p) ** (days / 90),
    };
  });
}

describe('the way closed', () => {
  it('is all of it for a forecast that knows the true chance', () => {
    const { closed, of } = figuresOf(invented(2000, (chance) => chance));
    expect(closed.unoC.fromBaseline).toBeCloseTo(1, 9);
    expect(closed.skill.fromBaseline).toBeCloseTo(1, 9);
    expect(of.perfect.slope).toBeGreaterThan(0.85);
    expect(of.perfect.slope).toBeLessThan(1.15);
  });

  it('is nothing for a forecast that says the same of all', () => {
    const { closed } = figuresOf(invented(2000, () => 0.088));
    expect(closed.unoC.fromBaseline).toBeCloseTo(0, 9);
    expect(closed.skill.fromBaseline).toBeCloseTo(0, 2);
  });

  it('is all in order and less in skill for a forecast that is too sure', () => {
    const { closed, of } = figuresOf(invented(2000, (chance) => (chance > 0.5 ? 0.99 : 0.001)));
    expect(closed.unoC.fromBaseline).toBeCloseTo(1, 9);
    expect(closed.skill.fromBaseline).toBeLessThan(0.9);
    expect(of.outlook.slope).toBeLessThan(0.8);
  });
});

describe('judged rows', () => {
  const forecast = {
    asOfOn: dateOfDay(ORIGIN),
    unit: 'P1',
    position: '',
    component: 'battery',
    pFail: 0.05,
    windowEarlyOn: dateOfDay(ORIGIN + 200),
    windowMidOn: dateOfDay(ORIGIN + 600),
    windowLateOn: dateOfDay(ORIGIN + 1000),
    ageOnly: 0.1,
    baseRate: 0.1,
    belowThreshold: false,
    lastValue: null,
  } as BacktestForecast;
  const life: TrueLife = {
    unit: 'P1',
    position: '',
    component: 'battery',
    fittedDay: ORIGIN - 500,
    removedDay: ORIGIN + 200,
    end: 'failure',
    cause: 'worn',
    recorded: true,
  };
  const judged = (changed: Partial<TrueLife>, lastDay = ORIGIN + 2000) =>
    judgedRows([forecast], {
      fleet: 'a',
      truth: { lives: [{ ...life, ...changed }], chance: () => ({ perfect: 0.2, worn: 0.15 }) },
      notebook: { chance: () => 0.3 },
      lastDay,
    });

  it('put a failure on the forecast’s own scale: at the window’s ends 0.1 and 0.9', () => {
    expect(judged({})[0]!.u).toBeCloseTo(0.1, 9);
    expect(judged({ removedDay: ORIGIN + 600 })[0]!.u).toBeCloseTo(0.5, 9);
    expect(judged({ removedDay: ORIGIN + 1000 })[0]!.u).toBeCloseTo(0.9, 9);
    expect(judged({ removedDay: ORIGIN + 90 })[0]!.u).toBeCloseTo(0.05, 9);
  });

  it('follow a part to the log’s end and no further', () => {
    expect(judged({}, ORIGIN + 150)[0]).toMatchObject({ days: 150, failed: false });
    expect(judged({})[0]).toMatchObject({ days: 200, failed: true });
  });

  it('leave out a place whose true part is not there', () => {
    expect(judged({ fittedDay: ORIGIN + 1 })).toEqual([]);
    expect(judged({ removedDay: ORIGIN })).toEqual([]);
  });
});

it('shareFailing counts what was followed', () => {
  const rows = invented(500, () => 0.1);
  const failed = rows.filter((row) => row.failed).length;
  expect(shareFailing(rows)).toBeCloseTo(failed / 500, 9);
});
