import { describe, expect, it } from 'vitest';
import { createRandom } from '../../etl/stats/random.ts';

function draws(count: number, seed: number, key?: string): number[] {
  const random = createRandom(seed, key);
  return Array.from({ length: count }, () => random.normal());
}

describe('seeded random numbers', () => {
  it('are the same for the same seed and key, and others for others', () => {
    expect(draws(5, 7, 'T-014 battery')).toEqual(draws(5, 7, 'T-014 battery'));
    expect(draws(5, 7, 'T-014 battery')).not.toEqual(draws(5, 7, 'T-014 starter'));
    expect(draws(5, 7)).not.toEqual(draws(5, 8));
  });

  it('normal deviates have mean 0, variance 1, no skew and 5 % beyond 1.96', () => {
    const values = draws(20_000, 3);
    const moment = (power: number) => values.reduce((sum, value) => sum + value ** power, 0) / values.length;
    // Four standard errors each.
    expect(Math.abs(moment(1))).toBeLessThan(4 / Math.sqrt(20_000));
    expect(Math.abs(moment(2) - 1)).toBeLessThan(4 * Math.sqrt(2 / 20_000));
    expect(Math.abs(moment(3))).toBeLessThan(4 * Math.sqrt(15 / 20_000));
    const beyond = values.filter((value) => Math.abs(value) > 1.959964).length / 20_000;
    expect(Math.abs(beyond - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / 20_000));
  });

  it('streams of neighbouring keys are not correlated', () => {
    const [one, other] = [draws(5000, 1, 'T-014'), draws(5000, 1, 'T-015')];
    const correlation = one.reduce((sum, value, i) => sum + value * other[i]!, 0) / 5000;
    expect(Math.abs(correlation)).toBeLessThan(4 / Math.sqrt(5000));
  });

  it('uniform deviates fill [0, 1) evenly', () => {
    const random = createRandom(5);
    const counts = new Float64Array(10);
    for (let i = 0; i < 10_000; i++) counts[Math.floor(random.uniform() * 10)]!++;
    // Chi-square with 9 degrees of freedom: 27.9 is its 99.9 % point.
    expect(counts.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)).toBeLessThan(27.9);
  });
});
