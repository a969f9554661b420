import { describe, expect, it } from 'vitest';
import { orderStatistic } from '../../etl/stats/order-statistic.ts';
import { createRandom } from '../../etl/stats/random.ts';

describe('order statistic', () => {
  it('is what sorting gives, at every rank, with and without ties, sorted and reversed', () => {
    const random = createRandom(1);
    const drawn = Float64Array.from({ length: 57 }, () => random.normal());
    const tied = drawn.map((value) => Math.round(value) + 0); // no −0: sorting puts it before 0
    for (const values of [drawn, tied, drawn.slice().sort(), drawn.slice().sort().reverse(), new Float64Array(9)]) {
      const sorted = values.slice().sort();
      sorted.forEach((expected, k) => {
        const work = values.slice();
        expect(orderStatistic(work, k)).toBe(expected);
        expect(Math.max(...work.subarray(0, k + 1))).toBe(expected);
        expect(Math.min(...work.subarray(k))).toBe(expected);
      });
    }
  });
});
