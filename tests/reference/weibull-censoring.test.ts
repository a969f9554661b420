import { describe, expect, it } from 'vitest';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { checkedLives, weibullLikelihood } from '../../etl/stats/weibull-likelihood.ts';
import { weibullQuantile } from '../../etl/stats/weibull.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

type Form = { time?: string; failed?: (event: number) => boolean; columns?: readonly ('after' | 'count' | 'entry')[] };

function livesOf(file: string, { time = 'time', failed = (event) => event === 1, columns = [] }: Form = {}): Lives {
  const event = time === 'distance' ? 'cause' : 'event';
  const read = referenceColumns(file, [time, event, ...columns]);
  const exit = read[time]!;
  return {
    entry: read.entry ?? new Float64Array(exit.length),
    exit,
    event: Uint8Array.from(read[event]!, (value) => Number(failed(value))),
    ...(read.after && { failedAfter: read.after }),
    ...(read.count && { weight: read.count }),
  };
}

/** Every figure that R gives: parameters, log-likelihood, covariance of log scale and log shape. */
function expectAsSurvreg(set: string, lives: Lives): void {
  const { computed, tolerance } = referenceSet(set);
  const fit = fitWeibull(lives);
  expect(fit.converged).toBe(true);
  expectClose(fit.shape, computed('shape'), tolerance);
  expectClose(fit.scale, computed('scale'), tolerance);
  expectClose(fit.logLikelihood, computed('logLikelihood'), 1e-9);
  expectClose(fit.covariance[0][0], computed('varianceLogScale'), 1e-5);
  expectClose(fit.covariance[0][1], computed('covariance'), 1e-5);
  expectClose(fit.covariance[1][1], computed('varianceLogShape'), 1e-5);
}

describe('right-censored lives, as R survreg', () => {
  const kilometres = { time: 'distance' };

  it('38 shock absorbers, 11 failed (O’Connor 1985), as published and as R', () => {
    const lives = livesOf('shock-absorber.csv', { ...kilometres, failed: (cause) => cause > 0 });
    const { published } = referenceSet('shockAbsorberLife');
    const fit = fitWeibull(lives);
    expect(Math.log(fit.scale)).toBeCloseTo(published('logScale'), 6);
    // The published fit stopped six digits in: R has 0.3164086.
    expectClose(1 / fit.shape, published('sigma'), 3e-6);
    expect(fit.logLikelihood).toBeCloseTo(published('logLikelihood'), 4);
    expectAsSurvreg('shockAbsorberLife', lives);
  });

  it.each([1, 2])('their failure mode %i alone, the other taken as censoring', (mode) => {
    const lives = livesOf('shock-absorber.csv', { ...kilometres, failed: (cause) => cause === mode });
    expectAsSurvreg(`shockAbsorberMode${mode}`, lives);
  });

  it('23 ball bearings, all failed (Lieblein & Zelen 1956)', () =>
    expectAsSurvreg('ballBearing', livesOf('ball-bearing.csv')));
  it('70 diesel generator fans, 12 failed (Nelson 1982)', () =>
    expectAsSurvreg('dieselFan', livesOf('diesel-fan.csv', { columns: ['count'] })));
  it('96 locomotive controls, 37 failed (Nelson 1982)', () =>
    expectAsSurvreg('locomotiveControl', livesOf('locomotive-control.csv', { columns: ['count'] })));
});

describe('failures that nobody saw happen, as R survreg of type interval2', () => {
  it('heat exchanger tubes, cracked before or between yearly inspections (Meeker & Escobar 1998)', () => {
    expectAsSurvreg('heatExchanger', livesOf('heat-exchanger.csv', { columns: ['after', 'count'] }));
  });

  it('432 turbine wheels, each looked at once: cracked by then or not (Nelson 1982)', () => {
    expectAsSurvreg('turbineWheel', livesOf('turbine-wheel.csv', { columns: ['after', 'count'] }));
  });

  it('the inspection taken for the failure would make the tubes seem to wear out more steeply', () => {
    const { failedAfter: _, ...atInspection } = livesOf('heat-exchanger.csv', { columns: ['after', 'count'] });
    expect(fitWeibull(atInspection).shape).toBeGreaterThan(1.3 * referenceSet('heatExchanger').computed('shape'));
  });
});

describe('power transformers, watched from an age (relife project, 1,650 lives)', () => {
  it('agree with the truncated likelihood, and would seem steeper if the age were ignored', () => {
    const lives = livesOf('power-transformer.csv', { columns: ['entry'] });
    const { published, computed, tolerance } = referenceSet('powerTransformer');
    const fit = fitWeibull(lives);
    expectClose(fit.shape, computed('shape'), tolerance);
    expectClose(fit.scale, computed('scale'), tolerance);
    expectClose(fit.shape, published('shape'), 1e-5);
    expectClose(fit.logLikelihood, published('logLikelihood'), 1e-9);
    const ignoring = fitWeibull({ ...lives, entry: new Float64Array(lives.exit.length) });
    expectClose(ignoring.shape, referenceSet('powerTransformerUntruncated').computed('shape'), tolerance);
    expect(ignoring.shape).toBeGreaterThan(4.1);
  });
});

describe('likelihood-ratio intervals of the bearing cages, 6 of 1,703 failed (Meeker & Escobar 1998, Example 8.16)', () => {
  const lives = livesOf('bearing-cage.csv', { columns: ['count'] });
  const known = checkedLives('test', lives);
  const fit = fitWeibull(lives);
  /** Half the 95 % point of chi-square with one degree of freedom (R qchisq). */
  const DROP = 3.841458820694124 / 2;

  /** Where the profile of log x falls by DROP on one side of the best. */
  function end(profile: (x: number) => number, best: number, side: -1 | 1): number {
    let [inside, outside] = [Math.log(best), Math.log(best) + 4 * side];
    for (let round = 0; round < 60; round++) {
      const middle = (inside + outside) / 2;
      if (profile(Math.exp(middle)) > fit.logLikelihood - DROP) inside = middle;
      else outside = middle;
    }
    return Math.exp(inside);
  }

  it('of the shape, as R', () => {
    const profile = (shape: number) => fitWeibull(lives, { fixedShape: shape }).logLikelihood;
    const ends = ([-1, 1] as const).map((side) => end(profile, fit.shape, side));
    expectAllClose(ends, referenceSet('bearingCage').computedList('shapeRatio'), 1e-6);
  });

  it('of the B10 life, 2,093 to 22,144 h as published (R 2,094), where ±1.96 errors would give 1,489 to 10,235', () => {
    const { computedList, publishedList } = referenceSet('bearingCage');
    const ends = ([-1, 1] as const).map((side) => end(profileOfB10, weibullQuantile(0.1, fit), side));
    expectAllClose(ends, computedList('b10Ratio'), 1e-6);
    expectAllClose(ends, publishedList('b10Ratio'), 1e-3);
  });

  /** The best log-likelihood over the shape, with the scale that gives this B10 life: golden section. */
  function profileOfB10(b10: number): number {
    const at = (logShape: number) =>
      weibullLikelihood(known, Math.log(b10) - Math.log(-Math.log(0.9)) / Math.exp(logShape), logShape).value;
    const golden = (Math.sqrt(5) - 1) / 2;
    let [low, high] = [-3, 3];
    while (high - low > 1e-8) {
      const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
      if (at(a) > at(b)) high = b;
      else low = a;
    }
    return at((low + high) / 2);
  }
});
