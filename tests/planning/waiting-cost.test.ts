import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { actByOn, dayOfAction } from '../../api/planning/act-by.ts';
import { replacementCost } from '../../api/planning/replacement-cost.ts';
import { survivalBetween } from '../../api/planning/survival-between.ts';
import { goingOnCostMinor, waitingCostMinor } from '../../api/planning/waiting-cost.ts';
import { SURVIVAL_DAYS, failureProbability } from '../../etl/model/outlook.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { exponentialSurvival, weibullSurvival } from '../support/outlooks.ts';

const battery = replacementCost(DEFAULT_SETTINGS, 'battery');

describe('replacement cost', () => {
  it('of a battery by the default settings, by hand', () => {
    // 320.00 + 0.75 × 120.00 = 410.00; + 3 × 85.00 = 665.00; 410.00 + 491.00 + 8 × 85.00 = 1,581.00
    expect(battery).toEqual({ atVisitMinor: 41_000, pulledInMinor: 66_500, unplannedMinor: 158_100 });
  });

  it('of a starter by the default settings, by hand', () => {
    // 420.00 + 2 × 120.00 = 660.00; + 255.00; + 491.00 + 680.00
    expect(replacementCost(DEFAULT_SETTINGS, 'starter')).toEqual({
      atVisitMinor: 66_000,
      pulledInMinor: 91_500,
      unplannedMinor: 183_100,
    });
  });

  it('stays in whole minor units where hours are fractions', () => {
    const settings = { ...DEFAULT_SETTINGS, laborRateMinorPerHour: 10_001 };
    expect(Number.isInteger(replacementCost(settings, 'battery').atVisitMinor)).toBe(true);
  });
});

describe('survival over a stretch', () => {
  it('of a constant hazard has the closed form 1 − e^(−t/m) and m (1 − e^(−t/m))', () => {
    const { pFail, serviceDays } = survivalBetween(exponentialSurvival(100), 0, 50);
    expect(pFail).toBeCloseTo(1 - Math.exp(-0.5), 12);
    expect(serviceDays).toBeCloseTo(100 * (1 - Math.exp(-0.5)), 9);
  });

  it('forgets the days before it when the hazard is constant', () => {
    const curve = exponentialSurvival(300);
    const later = survivalBetween(curve, 45, 95);
    expect(later.pFail).toBeCloseTo(survivalBetween(curve, 0, 50).pFail, 12);
    expect(later.serviceDays).toBeCloseTo(survivalBetween(curve, 0, 50).serviceDays, 9);
  });

  it('agrees with the probability that the outlook states for the same days', () => {
    const curve = weibullSurvival(3, 1400, 900);
    for (const days of [1, 7, 30, 60, 90, 91, 400, 1500, 1826])
      expect(survivalBetween(curve, 0, days).pFail).toBeCloseTo(failureProbability(curve, days), 12);
  });

  it('agrees with summing the curve day by day', () => {
    const curve = weibullSurvival(2.5, 1000, 600);
    const survivalAt = (days: number) => 1 - failureProbability(curve, days);
    const [from, to, parts] = [10, 200, 19_000];
    let area = 0;
    for (let part = 0; part < parts; part++) area += survivalAt(from + ((part + 0.5) * (to - from)) / parts);
    const expected = ((area / parts) * (to - from)) / survivalAt(from);
    expect(survivalBetween(curve, from, to).serviceDays).toBeCloseTo(expected, 5);
  });

  it('carries the last hazard on past the curve and lives through a stretch without hazard', () => {
    expect(survivalBetween(exponentialSurvival(500), 0, 2500).pFail).toBeCloseTo(1 - Math.exp(-5), 9);
    const certain = new Float64Array(SURVIVAL_DAYS.length).fill(1);
    expect(survivalBetween(certain, 0, 90)).toEqual({ pFail: 0, serviceDays: 90 });
  });
});

describe('cost of waiting', () => {
  it('is P × (unplanned − planned) less the life not thrown away, by hand', () => {
    // 0.3 × (1,581.00 − 410.00) − 410.00 × 60 / 1,200 = 351.30 − 20.50
    expect(waitingCostMinor({ pFail: 0.3, serviceDays: 60 }, battery, 1200)).toBe(33_080);
  });

  it('is a gain for a new part that hardly fails', () => {
    // 0.001 × 1,171.00 − 410.00 × 90 / 1,200 = 1.171 − 30.75
    expect(waitingCostMinor({ pFail: 0.001, serviceDays: 90 }, battery, 1200)).toBe(-2958);
  });
});

describe('cost of going on', () => {
  it('is the risk less what a fresh part would cost, by hand', () => {
    // 0.3 × 1,171.00 − 1,581.00 × 60 / 1,200 = 351.30 − 79.05
    expect(goingOnCostMinor({ pFail: 0.3, serviceDays: 60 }, battery, 1200)).toBe(27_225);
  });

  it('changes sign where the hazard is unplanned / (unplanned − planned) times that of an average life', () => {
    // 1,581 / 1,171 = 1.350: a mean of 1,200 / 1.350 = 888.8 days.
    expect(goingOnCostMinor(survivalBetween(exponentialSurvival(880), 0, 90), battery, 1200)).toBeGreaterThan(0);
    expect(goingOnCostMinor(survivalBetween(exponentialSurvival(898), 0, 90), battery, 1200)).toBeLessThan(0);
  });
});

describe('act by', () => {
  const question = { asOfOn: '2026-03-10', meanLifeDays: 1200 };

  it('is at once where the hazard is over unplanned / (mean life × gain) from the first day', () => {
    // Limit: 1,581 / 1,200 / 1,171 = 0.0011251 a day, that is one failure in 888.8 days.
    expect(actByOn(exponentialSurvival(880), battery, question)).toBe('2026-03-10');
    expect(actByOn(exponentialSurvival(898), battery, question)).toBeNull();
  });

  it('is the first day on which a rising hazard passes the limit', () => {
    // Weibull shape 2: hazard 2 t / scale². With scale 1,000 it passes 0.0011251 at an age of 562.5 days. At age 479
    // that is 83.5 days ahead; the curve's week from day 77 to day 84 has a mean hazard of 0.001119, the next of
    // 0.001133.
    expect(actByOn(weibullSurvival(2, 1000, 479), battery, question)).toBe(dateOf(dayNumber('2026-03-10') + 84));
  });

  it('lies before the end of every stretch through which going on costs more than a fresh part', () => {
    const shapes = fc.record({
      shape: fc.double({ min: 0.6, max: 6, noNaN: true }),
      scale: fc.double({ min: 100, max: 5000, noNaN: true }),
      age: fc.double({ min: 0, max: 3000, noNaN: true }),
      days: fc.integer({ min: 1, max: 700 }),
    });
    fc.assert(
      fc.property(shapes, ({ shape, scale, age, days }) => {
        const curve = weibullSurvival(shape, scale, age);
        fc.pre(goingOnCostMinor(survivalBetween(curve, 0, days), battery, 1200) > 0);
        const by = actByOn(curve, battery, question);
        expect(by).not.toBeNull();
        expect(dayNumber(by!) - dayNumber(question.asOfOn)).toBeLessThan(days);
      }),
    );
  });
});

it('the day that goes with an action never contradicts it', () => {
  const visit = '2026-05-01';
  expect(dayOfAction('book_now', '2026-03-10', visit)).toBe('2026-03-10');
  expect(dayOfAction('book_at_next_visit', '2026-03-10', visit)).toBe(visit);
  expect(dayOfAction('book_at_next_visit', '2026-06-10', visit)).toBe(visit);
  expect(dayOfAction('measure_first', '2026-03-10', visit)).toBe('2026-03-10');
  expect(dayOfAction('leave', '2026-03-10', visit)).toBeNull();
  expect(dayOfAction('leave', '2027-03-10', visit)).toBe('2027-03-10');
  expect(dayOfAction('leave', null, visit)).toBeNull();
});
