import { describe, expect, it } from 'vitest';
import { recallAtTop } from '../../etl/stats/recall-at-top.ts';

const rows = (score: number[], failed: number[]) => ({
  score: Float64Array.from(score),
  failed: Uint8Array.from(failed),
});

describe('recall at the top', () => {
  it('counts the failures among the highest scores', () => {
    expect(recallAtTop(rows([4, 3, 2, 1], [1, 0, 1, 0]), 0.25)).toEqual({ found: 1, failed: 2 });
    expect(recallAtTop(rows([4, 3, 2, 1], [1, 0, 1, 0]), 1)).toEqual({ found: 2, failed: 2 });
  });

  it('shares the room among equal scores: a constant score finds its share', () => {
    expect(recallAtTop(rows([1, 1, 1, 1], [1, 0, 1, 0]), 0.5)).toEqual({ found: 1, failed: 2 });
    expect(recallAtTop(rows([9, 1, 1, 1], [0, 1, 1, 1]), 0.5).found).toBeCloseTo(1, 12);
  });

  it('takes a part of a row for a small share', () => {
    expect(recallAtTop(rows([4, 3], [1, 1]), 0.05)).toEqual({ found: 0.1, failed: 2 });
  });

  it('refuses a share of nothing', () =>
    expect(() => recallAtTop(rows([1], [1]), 0)).toThrow(
      'recallAtTop requires a share over 0, up to 1, got 0 (share)',
    ));
});
