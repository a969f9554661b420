import { describe, expect, it } from 'vitest';
import { denseRanks, inRankOrder } from '../../etl/stats/dense-ranks.ts';

describe('dense ranks', () => {
  it('are equal for equal values and leave no number out', () => {
    const ranked = denseRanks(Float64Array.of(0.3, -1, 0.3, Infinity, 0));
    expect([...ranked.ranks]).toEqual([3, 1, 3, 4, 2]);
    expect(ranked.count).toBe(4);
  });

  it('order the rows, equal ones as they stood', () => {
    expect([...inRankOrder(denseRanks(Float64Array.of(5, 2, 5, 1)))]).toEqual([3, 1, 0, 2]);
    expect([...inRankOrder(denseRanks(new Float64Array(0)))]).toEqual([]);
  });
});
