import { describe, expect, it } from 'vitest';
import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { lifeSurvival } from '../../etl/outlook/life-survival.ts';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { weibullPosteriorGrid } from '../../etl/stats/weibull-posterior.ts';
import {
  logWeibullConditionalSurvival,
  weibullMean,
  weibullQuantile,
  weibullSurvival,
} from '../../etl/stats/weibull.ts';
import { expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

function rightCensored(file: string): Lives {
  const { time, event } = referenceColumns(file, ['time', 'event']);
  return { entry: new Float64Array(time.length), exit: time, event: Uint8Array.from(event) };
}

const bearingCage: Lives = {
  ...rightCensored('bearing-cage.csv'),
  weight: referenceColumns('bearing-cage.csv', ['count']).count,
};
const circuitBreaker: Lives = {
  ...rightCensored('circuit-breaker.csv'),
  entry: referenceColumns('circuit-breaker.csv', ['entry']).entry,
};

function expectFit(set: string, lives: Lives): void {
  const expected = referenceSet(set);
  const fit = fitWeibull(lives);
  expect(fit.converged).toBe(true);
  expectClose(fit.shape, expected.computed('shape'), 1e-6);
  expectClose(fit.scale, expected.computed('scale'), 1e-6);
}

function expectCovariance(set: string, lives: Lives, tolerance: number): void {
  const expected = referenceSet(set);
  const { covariance, logLikelihood } = fitWeibull(lives);
  expectClose(logLikelihood, expected.computed('logLikelihood'), 1e-9);
  expectClose(covariance[0][0], expected.computed('varianceLogScale'), tolerance);
  expectClose(covariance[0][1], expected.computed('covariance'), tolerance);
  expectClose(covariance[1][0], expected.computed('covariance'), tolerance);
  expectClose(covariance[1][1], expected.computed('varianceLogShape'), tolerance);
}

describe('NIST/SEMATECH e-Handbook 8.4.1.3, ten of twenty units failed', () => {
  const lives = rightCensored('nist-weibull.csv');
  const { published } = referenceSet('nistWeibull');

  it('has the published shape, scale, log-likelihood and mean life', () => {
    const fit = fitWeibull(lives);
    expect(fit.shape).toBeCloseTo(published('shape'), 4);
    expectClose(fit.scale, published('scale'), 1e-6);
    expect(-fit.logLikelihood).toBeCloseTo(published('minusLogLikelihood'), 3);
    expectClose(weibullMean(fit), published('mean'), 2e-6);
    expect(fit.events).toBe(10);
  });

  it('agrees with R survreg to the last digits, covariance too', () => {
    expectFit('nistWeibull', lives);
    expectCovariance('nistWeibull', lives, 1e-6);
  });
});

describe('what is left to a unit of age 300 of those', () => {
  const known = { age: Float64Array.of(300), weight: Float64Array.of(1) };

  it.each([28, 182, 560])('after %i, averaged over all parameters, is as by a sum over 750,000 of them', (days) => {
    const { shape, scale, weight } = weibullPosteriorGrid(rightCensored('nist-weibull.csv'), { leastWeight: 1e-5 });
    const grid = { shape: [...shape], scale: [...scale], weight: [...weight] };
    const survival = lifeSurvival(grid, known)[SURVIVAL_DAYS.indexOf(days)]!;
    const expected = referenceSet('nistRemaining').computed(`survival${days}`);
    expect(Math.abs(survival - expected)).toBeLessThan(1e-3);
  });
});

describe('bearing cages, 6 of 1,703 failed (Abernethy 1983; Meeker & Escobar 1998, Example 8.16)', () => {
  it('have the published shape and B10 life', () => {
    const { published, computed } = referenceSet('bearingCage');
    const fit = fitWeibull(bearingCage);
    expect(fit.shape).toBeCloseTo(published('shape'), 3);
    expect(Math.round(weibullQuantile(0.1, fit))).toBe(published('b10'));
    expectClose(weibullQuantile(0.1, fit), computed('b10'), 1e-6);
  });

  it('agree with R survreg, rows counted by weight', () => {
    expectFit('bearingCage', bearingCage);
    expectCovariance('bearingCage', bearingCage, 1e-6);
  });

  const prior = { logShapeMean: Math.log(2), logShapeSd: 0.3 };

  it('with a prior on the shape have the posterior mode that R optim finds', () => {
    const { computed } = referenceSet('bearingCagePrior');
    const fit = fitWeibull(bearingCage, { prior });
    expectClose(fit.shape, computed('shape'), 1e-6);
    expectClose(fit.scale, computed('scale'), 1e-6);
  });

  it.each([500, 2000, 10_000])('averaged over the posterior survive %i h as by a sum over 450,000 grid points', (t) => {
    const { shape, scale, weight } = weibullPosteriorGrid(bearingCage, { prior });
    const survived = weight.reduce(
      (sum, w, i) => sum + w * weibullSurvival(t, { shape: shape[i]!, scale: scale[i]! }),
      0,
    );
    expect(Math.abs(survived - referenceSet('bearingCagePrior').computed(`survival${t}`))).toBeLessThan(5e-4);
  });
});

describe('circuit breakers, watched from an age (relife project, 4,204 lives)', () => {
  it('have the published shape, rate and AIC when left truncation is honoured', () => {
    const { published } = referenceSet('circuitBreaker');
    const fit = fitWeibull(circuitBreaker);
    expectClose(fit.shape, published('shape'), 1e-7);
    expectClose(1 / fit.scale, published('rate'), 1e-6);
    expect(2 * 2 - 2 * fit.logLikelihood).toBeCloseTo(published('aic'), 2);
    expectFit('circuitBreaker', circuitBreaker);
  });

  it('would seem to wear out far more steeply, shape 5.08, if it were ignored', () => {
    const ignoring = { ...circuitBreaker, entry: new Float64Array(circuitBreaker.exit.length) };
    expect(fitWeibull(ignoring).shape).toBeCloseTo(referenceSet('circuitBreakerUntruncated').published('shape'), 2);
    expectFit('circuitBreakerUntruncated', ignoring);
  });
});

describe('inpatients by age, left-truncated at admission (Woolson 1981)', () => {
  it('agree with R optim on the truncated likelihood', () => {
    const { entry, exit, event } = referenceColumns('psych.csv', ['entry', 'exit', 'event']);
    const lives = { entry, exit, event: Uint8Array.from(event) };
    expectFit('psych', lives);
    // R takes the Hessian by differences here.
    expectCovariance('psych', lives, 1e-5);
  });
});

describe('a part of age 600, shape 2.5, scale 1000', () => {
  it.each([
    [30, 0],
    [90, 1],
  ])('fails within %i as by R pweibull', (ahead, index) => {
    const { tolerance, computedList } = referenceSet('weibull');
    const failed = -Math.expm1(logWeibullConditionalSurvival(ahead, 600, { shape: 2.5, scale: 1000 }));
    expectClose(failed, computedList('conditionalFailure')[index]!, tolerance);
  });
});
