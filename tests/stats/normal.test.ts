import { describe, expect, it } from 'vitest';
import { logGamma } from '../../etl/stats/log-gamma.ts';
import { logNormalCdf, millsRatio, normalCdf, normalDensity, normalQuantile } from '../../etl/stats/normal.ts';
import { expectClose } from '../support/close.ts';

describe('standard normal distribution', () => {
  it('both sides of a value make 1', () => {
    for (const x of [0, 0.3, 0.67448975, 1, 4, 5.6568, 5.657, 12]) expectClose(normalCdf(x) + normalCdf(-x), 1, 1e-15);
  });

  it('grows by its density: the three approximations meet without a step', () => {
    for (const x of [-5.65685424949238, -0.67448975, 0.67448975, 2]) {
      const h = 1e-6;
      expectClose((normalCdf(x + h) - normalCdf(x - h)) / (2 * h), normalDensity(x), 1e-7);
    }
  });

  it('logarithm is that of the value where the value can be had', () => {
    for (const x of [-20, -5.5, -1, -0.2, 0, 0.5, 3]) expectClose(logNormalCdf(x), Math.log(normalCdf(x)), 1e-13);
  });

  it('has its limits at the ends', () => {
    expect([normalCdf(-Infinity), normalCdf(Infinity)]).toEqual([0, 1]);
    expect([logNormalCdf(-Infinity), logNormalCdf(Infinity)]).toEqual([-Infinity, 0]);
    expect([normalQuantile(0), normalQuantile(1)]).toEqual([-Infinity, Infinity]);
    expect(millsRatio(Infinity)).toBe(0);
  });

  it('quantile and distribution function are inverse', () => {
    for (const p of [1e-250, 1e-9, 0.025, 0.5, 0.8, 1 - 1e-9]) expectClose(normalCdf(normalQuantile(p)), p, 1e-12);
  });

  it('Mills ratio lies between its classical bounds x/(x² + 1) and 1/x', () => {
    for (const x of [0.5, 2, 5, 8, 40]) {
      expect(millsRatio(x)).toBeGreaterThan(x / (x * x + 1));
      expect(millsRatio(x)).toBeLessThan(1 / x);
    }
    expectClose(millsRatio(-3), normalCdf(3) / normalDensity(3), 1e-14);
  });

  it('refuses a probability outside 0 to 1', () => {
    expect(() => normalQuantile(-0.1)).toThrow('normalQuantile requires a probability from 0 to 1, got -0.1 (p)');
    expect(() => normalQuantile(Number.NaN)).toThrow('normalQuantile requires a probability from 0 to 1, got NaN (p)');
  });
});

describe('log gamma', () => {
  it('is the factorial at whole numbers and √π at a half', () => {
    let factorial = 1;
    for (let n = 1; n <= 15; n++) {
      expectClose(Math.exp(logGamma(n)), factorial, 1e-12);
      factorial *= n;
    }
    expectClose(Math.exp(logGamma(0.5)), Math.sqrt(Math.PI), 1e-13);
  });

  it('refuses 0', () => {
    expect(() => logGamma(0)).toThrow('logGamma requires a number above 0, got 0 (x)');
  });
});
