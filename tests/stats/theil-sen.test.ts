import { describe, expect, it } from 'vitest';
import { kendallVariance } from '../../etl/stats/kendall-variance.ts';
import { quantile } from '../../etl/stats/quantile.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { theilSen, theilSenSlope } from '../../etl/stats/theil-sen.ts';
import { expectClose } from '../support/close.ts';

describe('Theil–Sen slope', () => {
  it('follows the line where one point of seven is wild', () => {
    const { slope, intercept } = theilSen(Float64Array.of(1, 2, 3, 4, 5, 6, 7), Float64Array.of(1, 2, 3, 4, 5, 16, 7));
    expect([slope, intercept]).toEqual([1, 0]);
  });

  it('is the median of all slopes, its interval two of their quantiles: brute force', () => {
    const random = createRandom(4);
    for (const n of [12, 47, 90]) {
      const t = Float64Array.from({ length: n }, (_, i) => Math.floor(i / 2) + (i % 3));
      const y = t.map((time) => Math.round(20 * (0.02 * time + random.normal())) / 20);
      const slopes: number[] = [];
      for (let i = 0; i < n; i++)
        for (let j = i + 1; j < n; j++) if (t[i] !== t[j]) slopes.push((y[j]! - y[i]!) / (t[j]! - t[i]!));
      slopes.sort((a, b) => a - b);
      const reach = 1.959963984540054 * Math.sqrt(kendallVariance(y));
      // The rank r of N values is their type-7 quantile of (r − 1)/(N − 1).
      const atRank = (rank: number) => quantile(slopes, (rank - 1) / (slopes.length - 1));
      const fit = theilSen(t, y);
      expect(theilSenSlope(t, y)).toBe(fit.slope);
      expectClose(fit.slope, quantile(slopes, 0.5), 1e-12);
      expectClose(fit.low, atRank((slopes.length - reach) / 2), 1e-9);
      expectClose(fit.high, atRank((slopes.length + reach) / 2 + 1), 1e-9);
    }
  });

  it('covers the true slope in 95 of 100 draws', () => {
    const random = createRandom(21);
    const t = Float64Array.from({ length: 40 }, (_, i) => i);
    let covered = 0;
    for (let draw = 0; draw < 400; draw++) {
      const { low, high } = theilSen(
        t,
        t.map((time) => 0.05 * time + random.normal()),
      );
      if (low <= 0.05 && 0.05 <= high) covered++;
    }
    // Three standard errors of a share of 0.95 in 400 draws.
    expect(Math.abs(covered / 400 - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / 400));
  });

  it('has no bounds where the points are too few for any', () => {
    const { low, high } = theilSen(Float64Array.of(1, 2, 3), Float64Array.of(1, 2, 3));
    expect([low, high]).toEqual([-Infinity, Infinity]);
  });

  it('turns with the sign and scales with the units', () => {
    const random = createRandom(8);
    const t = Float64Array.from({ length: 30 }, (_, i) => i + random.uniform());
    const y = t.map(() => random.normal());
    const [plain, turned] = [
      theilSen(t, y),
      theilSen(
        t.map((time) => time / 365),
        y.map((value) => -value),
      ),
    ];
    expectClose(turned.slope, -365 * plain.slope, 1e-12);
    expectClose(turned.low, -365 * plain.high, 1e-9);
  });

  it('refuses what has no slope', () => {
    expect(() => theilSen(Float64Array.of(1, 1), Float64Array.of(1, 2))).toThrow(
      'theilSen requires two different times, got none (t)',
    );
    expect(() => theilSen(Float64Array.of(1, 2), Float64Array.of(1))).toThrow(
      'theilSen requires 2 values, one a time, got 1 (y)',
    );
    expect(() => theilSen(Float64Array.of(1, 2), Float64Array.of(1, Number.NaN))).toThrow(
      'theilSen requires finite values, got NaN (y[1])',
    );
    expect(() => theilSen(Float64Array.of(1, Infinity), Float64Array.of(1, 2))).toThrow(
      'theilSen requires finite times, got Infinity (t[1])',
    );
    expect(() => theilSen(new Float64Array(4001), new Float64Array(4001))).toThrow(
      'theilSen requires at most 4000 points, got 4001 (t)',
    );
    expect(() => theilSen(Float64Array.of(1, 2), Float64Array.of(1, 2), 0)).toThrow(
      'theilSen requires a confidence between 0 and 1, got 0 (confidence)',
    );
  });
});
