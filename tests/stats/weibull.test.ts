import { describe, expect, it } from 'vitest';
import {
  logWeibullConditionalSurvival,
  weibullCumulativeHazard,
  weibullMean,
  weibullQuantile,
  weibullSurvival,
} from '../../etl/stats/weibull.ts';
import { expectClose } from '../support/close.ts';

describe('Weibull distribution', () => {
  it('of shape 1 is exponential', () => {
    for (const t of [0, 1, 30, 700]) expectClose(weibullSurvival(t, { shape: 1, scale: 30 }), Math.exp(-t / 30), 1e-14);
    expectClose(weibullMean({ shape: 1, scale: 30 }), 30, 1e-13);
    expectClose(Math.exp(logWeibullConditionalSurvival(5, 600, { shape: 1, scale: 30 })), Math.exp(-5 / 30), 1e-13);
  });

  it('of shape 2 is the Rayleigh distribution with mean scale·√π/2', () => {
    expectClose(weibullMean({ shape: 2, scale: 100 }), (100 * Math.sqrt(Math.PI)) / 2, 1e-13);
  });

  it('has failed to 1 − 1/e at its scale, whatever the shape', () => {
    for (const shape of [0.5, 1, 3.7]) expectClose(weibullQuantile(1 - Math.exp(-1), { shape, scale: 80 }), 80, 1e-12);
  });

  it('quantile and survival are inverse', () => {
    for (const p of [1e-12, 0.1, 0.5, 0.999]) {
      const weibull = { shape: 2.3, scale: 1400 };
      expectClose(-Math.expm1(-weibullCumulativeHazard(weibullQuantile(p, weibull), weibull)), p, 1e-12);
    }
    expect(weibullQuantile(0, { shape: 2, scale: 3 })).toBe(0);
    expect(weibullQuantile(1, { shape: 2, scale: 3 })).toBe(Infinity);
  });

  it('mean is the area under the survival curve', () => {
    const weibull = { shape: 2.5, scale: 1000 };
    let area = 0;
    for (let t = 0.5; t < 5000; t++) area += weibullSurvival(t, weibull);
    expectClose(weibullMean(weibull), area, 1e-6);
  });

  it('conditional survival is the ratio of survivals, and multiplies along the way', () => {
    const weibull = { shape: 2.5, scale: 1000 };
    const ratio = weibullSurvival(690, weibull) / weibullSurvival(600, weibull);
    expectClose(Math.exp(logWeibullConditionalSurvival(90, 600, weibull)), ratio, 1e-12);
    const inTwo = logWeibullConditionalSurvival(40, 600, weibull) + logWeibullConditionalSurvival(50, 640, weibull);
    expectClose(logWeibullConditionalSurvival(90, 600, weibull), inTwo, 1e-12);
    expect(logWeibullConditionalSurvival(90, 0, weibull)).toBe(-weibullCumulativeHazard(90, weibull));
  });

  it('conditional survival keeps its digits for a short look ahead at a great age', () => {
    // Hazard k/s·(age/s)^(k−1) times the step: the second-order term is below 1e-15 of it.
    const weibull = { shape: 3, scale: 100 };
    expectClose(logWeibullConditionalSurvival(1e-9, 1e6, weibull), -3e-2 * 1e8 * 1e-9, 1e-12);
  });

  it('refuses what it has no answer for', () => {
    const weibull = { shape: 2, scale: 3 };
    expect(() => weibullSurvival(-1, weibull)).toThrow(
      'weibullCumulativeHazard requires a time of at least 0, got -1 (t)',
    );
    expect(() => weibullMean({ shape: 0, scale: 3 })).toThrow(
      'weibullMean requires a finite shape above 0, got 0 (shape)',
    );
    expect(() => weibullQuantile(0.5, { shape: 2, scale: Infinity })).toThrow(
      'weibullQuantile requires a finite scale above 0, got Infinity (scale)',
    );
    expect(() => weibullQuantile(1.5, weibull)).toThrow(
      'weibullQuantile requires a probability from 0 to 1, got 1.5 (p)',
    );
    expect(() => logWeibullConditionalSurvival(-1, 2, weibull)).toThrow(
      'logWeibullConditionalSurvival requires a time of at least 0, got -1 (ahead)',
    );
  });
});
