import { describe, expect, it } from 'vitest';
import { median, medianAbsoluteDeviation, quantile } from '../../etl/stats/quantile.ts';

describe('quantile', () => {
  it('is linear between order statistics', () => {
    expect(quantile(Float64Array.of(4, 1, 3, 2), 0.25)).toBe(1.75);
    expect([0, 1].map((p) => quantile(Float64Array.of(4, 1, 3, 2), p))).toEqual([1, 4]);
    expect(median(Float64Array.of(5))).toBe(5);
    expect(median(Float64Array.of(5, 1, 2, 100))).toBe(3.5);
  });

  it('leaves the values in their order', () => {
    const values = Float64Array.of(3, 1, 2);
    median(values);
    expect([...values]).toEqual([3, 1, 2]);
  });

  it('median absolute deviation ignores one wild value', () => {
    expect(medianAbsoluteDeviation(Float64Array.of(1, 1, 2, 2, 4, 6, 9))).toBe(1);
    expect(medianAbsoluteDeviation(Float64Array.of(1, 1, 2, 2, 4, 6, 9e9))).toBe(1);
  });

  it('refuses nothing, NaN and odd probabilities', () => {
    expect(() => median([])).toThrow('median requires at least one value, got 0 (values)');
    expect(() => quantile([1, Number.NaN], 0.5)).toThrow('quantile requires finite values, got NaN (values[1])');
    expect(() => quantile([1], 2)).toThrow('quantile requires a probability from 0 to 1, got 2 (p)');
    expect(() => medianAbsoluteDeviation([])).toThrow(
      'medianAbsoluteDeviation requires at least one value, got 0 (values)',
    );
  });
});
