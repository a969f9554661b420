import { describe, expect, it } from 'vitest';
import { changePoints, type ChangePointOptions } from '../../etl/stats/change-point.ts';
import { StatisticsRefusal } from '../../etl/stats/refusal.ts';

const x = (count: number) => Float64Array.from({ length: count }, (_, index) => index);
const starts = (y: Float64Array, options: ChangePointOptions) =>
  changePoints(x(y.length), y, options).map(({ from }) => from);
/** A scatter without chance: ±0.1 in turn, no four alike. */
const scatter = (index: number) => 0.1 * ([1, -1, -1, 1, 1, 1, -1][index % 7] ?? 0);

describe('change points', () => {
  it('are not found where there are none', () => {
    expect(starts(x(60).map(scatter), { varianceFloor: 1e-4 })).toEqual([0]);
  });

  it('are not made of a steady climb, where segments are lines', () => {
    const climb = x(60).map((index) => 0.05 * index + scatter(index));
    expect(starts(climb, { varianceFloor: 1e-4, model: 'line' })).toEqual([0]);
    expect(starts(climb, { varianceFloor: 1e-4, model: 'level' }).length).toBeGreaterThan(1);
  });

  it('stand where a climb falls back, with the size of the fall', () => {
    const saw = x(80).map((index) => 0.05 * (index % 50) + scatter(index));
    const [before, after] = changePoints(x(80), saw, { varianceFloor: 1e-4, model: 'line' });
    expect(after!.from).toBe(50);
    expect(after!.first - before!.last).toBeCloseTo(-2.45, 1);
  });

  it('are those of the exhaustive search: every pair of cuts tried', () => {
    const y = x(24).map((index) => (index < 7 ? 0 : index < 15 ? 1 : 0.4) + scatter(index) * (1 + (index % 3)));
    const floor = 1e-4;
    const cost = (from: number, to: number) => {
      const part = [...y.subarray(from, to)];
      const mean = part.reduce((sum, value) => sum + value, 0) / part.length;
      const rss = part.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      return part.length * Math.log(Math.max(rss / part.length, floor));
    };
    let best = { total: Infinity, cuts: [0, 0] };
    for (let a = 5; a <= 14; a++)
      for (let b = a + 5; b <= 19; b++) {
        const total = cost(0, a) + cost(a, b) + cost(b, 24);
        if (total < best.total) best = { total, cuts: [a, b] };
      }
    expect(starts(y, { varianceFloor: floor, penalty: 1 })).toEqual([0, ...best.cuts]);
  });

  it('keep the least length of a segment', () => {
    const spike = x(30).map((index) => (index === 12 || index === 13 ? 9 : scatter(index)));
    const found = changePoints(x(30), spike, { varianceFloor: 1e-4 });
    expect(found.every(({ from, to }) => to - from >= 5)).toBe(true);
    expect(changePoints(x(3), x(3), { varianceFloor: 1 })).toHaveLength(1);
    expect(changePoints(x(0), x(0), { varianceFloor: 1 })).toEqual([]);
  });

  it('refuse what they cannot be had of', () => {
    const y = Float64Array.of(1, Number.NaN, 3);
    expect(() => changePoints(x(3), y, { varianceFloor: 1 })).toThrow(
      new StatisticsRefusal('changePoints', 'finite values', Number.NaN, 'y'),
    );
    expect(() => changePoints(x(2), y, { varianceFloor: 1 })).toThrow('as many x as y (3), got 2 (x)');
    expect(() => changePoints(x(3), x(3), { varianceFloor: 0 })).toThrow('a positive floor of the variance, got 0');
    expect(() => changePoints(x(3), x(3), { varianceFloor: 1, minSegment: 1 })).toThrow('got 1 (minSegment)');
  });
});
