import { describe, expect, it } from 'vitest';
import { medianOf, windowHigh, windowMedian, windowNoise } from '../../etl/signal/sorted-window.ts';
import { createRandom } from '../../etl/stats/random.ts';

/** The same by sorting a copy. */
const sorted = (values: Float64Array) => values.filter((value) => !Number.isNaN(value)).toSorted();
function medianBySorting(values: Float64Array): number {
  const own = sorted(values);
  const half = own.length >> 1;
  if (own.length === 0) return Number.NaN;
  return own.length % 2 === 1 ? own[half]! : (own[half - 1]! + own[half]!) / 2;
}

describe('the middle of a window', () => {
  it('is that of the sorted values: coarse and fine, in any order, with values missing', () => {
    const random = createRandom(1, 'windows');
    for (let round = 0; round < 3000; round++) {
      const count = Math.floor(random.uniform() * (round % 3 === 0 ? 8 : 500));
      const step = [0, 0.05, 1e-9][round % 3]!;
      const values = Float64Array.from({ length: count }, (_, index) => {
        if (random.uniform() < 0.02) return Number.NaN;
        const value = round % 5 === 0 ? index : random.uniform() * 14;
        return step === 0 ? value : Math.round(value / step) * step;
      });
      const median = medianBySorting(values);
      expect(windowMedian(values, 0, count)).toBe(median);
      const deviations = values.map((value) => Math.abs(value - median));
      expect(windowNoise(values, 0, count, median)).toBe(1.4826 * medianBySorting(deviations));
      const own = sorted(values);
      expect(windowHigh(values, 0, count)).toBe(own.length === 0 ? Number.NaN : own[Math.floor(own.length * 0.9)]);
      if (own.length === count) expect(medianOf([...values])).toBe(median);
    }
  });

  it('of values in order, all equal, or none', () => {
    const rising = Float64Array.from({ length: 512 }, (_, index) => index);
    expect(windowMedian(rising, 0, 512)).toBe(255.5);
    expect(windowMedian(rising.toReversed(), 0, 511)).toBe(256);
    expect(windowMedian(new Float64Array(300).fill(12.5), 0, 300)).toBe(12.5);
    expect(windowMedian(rising, 5, 5)).toBeNaN();
    expect(medianOf([])).toBeNaN();
  });
});
