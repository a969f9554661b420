import { describe, expect, it } from 'vitest';
import { clusterDraws, percentileInterval } from '../../etl/stats/cluster-bootstrap.ts';
import { createRandom } from '../../etl/stats/random.ts';

describe('bootstrap by cluster', () => {
  const units = ['a', 'a', 'a', 'b', 'c', 'c'];

  it('draws as many units as there are, each with all its rows', () => {
    for (const rows of clusterDraws(units, { seed: 1, count: 50 })) {
      const times = (row: number) => rows.filter((each) => each === row).length;
      expect([times(1), times(2), times(5)]).toEqual([times(0), times(0), times(4)]);
      expect(times(0) + times(3) + times(4)).toBe(3);
    }
  });

  it('is the same for the same seed and another for another', () => {
    const draw = (seed: number) => clusterDraws(units, { seed, count: 20 });
    expect(draw(3)).toEqual(draw(3));
    expect(draw(4)).not.toEqual(draw(3));
  });

  it('knows that rows of one unit are not independent: its interval is as wide as that of the units alone', () => {
    const random = createRandom(5, 'units');
    const levels = Array.from({ length: 100 }, () => random.normal());
    const width = (copies: number) => {
      const rows = levels.flatMap((level, unit) => Array.from({ length: copies }, () => ({ level, unit: `${unit}` })));
      const draws = clusterDraws(
        rows.map(({ unit }) => unit),
        { seed: 2, count: 400 },
      );
      const means = draws.map((drawn) => drawn.reduce((sum, row) => sum + rows[row]!.level, 0) / drawn.length);
      const { low, high } = percentileInterval(means)!;
      return high - low;
    };
    expect(width(12)).toBeCloseTo(width(1), 10);
    expect(width(1)).toBeGreaterThan(0.25);
    expect(width(1)).toBeLessThan(0.55);
  });

  it('gives no interval where half of the draws had no answer', () => {
    expect(percentileInterval([1, null, null])).toBeNull();
    const { low, high } = percentileInterval([0, 1, 2, null])!;
    expect([low, high].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([0.05, 1.95]);
    expect(() => clusterDraws([], { seed: 1, count: 1 })).toThrow(
      'clusterDraws requires at least one cluster, got 0 (clusterOfRow)',
    );
    expect(() => percentileInterval([1], 1)).toThrow(
      'percentileInterval requires a confidence between 0 and 1, got 1 (confidence)',
    );
  });
});
