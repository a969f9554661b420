import { describe, expect, it } from 'vitest';
import { lineFit } from '../../etl/trends/line.ts';
import { shrunk, slopePrior } from '../../etl/trends/shrink-slopes.ts';
import { weeklyMedians } from '../../etl/trends/weekly-medians.ts';

describe('line', () => {
  it('is exact on a line', () => {
    expect(lineFit(Float64Array.of(0, 1, 2, 3), Float64Array.of(1, 3, 5, 7))).toMatchObject({
      slope: 2,
      intercept: 1,
      residual: 0,
    });
  });
  it('gives the least-squares line and its error (worked example: Anscombe 1973, first set)', () => {
    const x = Float64Array.of(10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5);
    const y = Float64Array.of(8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68);
    const line = lineFit(x, y);
    // Published: y = 3.00 + 0.500 x, standard error of the slope 0.118; residuals in this order are not alike.
    expect(line.slope).toBeCloseTo(0.5, 3);
    expect(line.intercept).toBeCloseTo(3, 2);
    expect(line.slopeError).toBeCloseTo(0.118, 3);
  });
  it('refuses two points', () => {
    expect(() => lineFit(Float64Array.of(1, 2), Float64Array.of(1, 2))).toThrow(
      'line requires 3 points or more, got 2 and 2 (x, y)',
    );
  });
  it('owns up to serial dependence: a wandering series has a wider interval than one shuffled', () => {
    const n = 60;
    const x = Float64Array.from({ length: n }, (_, i) => i);
    const wave = Float64Array.from(x, (i) => Math.sin(i / 5));
    const mixed = Float64Array.from(x, (i) => Math.sin(((i * 37) % n) / 5));
    expect(lineFit(x, wave).slopeError).toBeGreaterThan(1.8 * lineFit(x, mixed).slopeError);
  });
});

describe('partial pooling', () => {
  const slopes = [0.1, 0.12, 0.09, 0.11, 0.1, 0.08].map((slope) => ({ slope, error: 0.01 }));
  it('leaves fewer than five slopes alone', () => {
    expect(slopePrior(slopes.slice(0, 4))).toBeNull();
    expect(shrunk({ slope: 9, error: 3 }, null)).toEqual({ slope: 9, error: 3 });
  });
  it('draws a slope that is known badly to its class, one that is known well hardly', () => {
    const prior = slopePrior(slopes)!;
    expect(prior.mean).toBeCloseTo(0.1, 2);
    expect(shrunk({ slope: 1, error: 1 }, prior).slope).toBeCloseTo(0.1, 1);
    expect(shrunk({ slope: 1, error: 0.0001 }, prior).slope).toBeCloseTo(1, 1);
  });
  it('is the precision-weighted mean (worked by hand: 1 ± 1 under 0 ± 1 gives 0.5 ± 0.7071)', () => {
    const half = shrunk({ slope: 1, error: 1 }, { mean: 0, sd: 1 });
    expect(half.slope).toBeCloseTo(0.5, 12);
    expect(half.error).toBeCloseTo(Math.SQRT1_2, 12);
  });
});

it('weekly medians date a week at the mean of its days', () => {
  const weeks = weeklyMedians(Int32Array.of(14, 15, 16, 21), Float64Array.of(1, 9, 2, 5));
  expect([...weeks.day]).toEqual([15, 21]);
  expect([...weeks.value]).toEqual([2, 5]);
});
