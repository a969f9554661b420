import { expect, it } from 'vitest';
import { nearestIndex } from '../../../web/charts/nearest-index.ts';

it('is the same as looking at all of them', () => {
  const days = [2, 3, 7, 20, 21, 40];
  for (let wanted = -3; wanted < 50; wanted += 0.5) {
    const far = days.map((day) => Math.abs(day - wanted));
    expect([wanted, nearestIndex(days, wanted)]).toEqual([wanted, far.indexOf(Math.min(...far))]);
  }
  expect(nearestIndex([9], 100)).toBe(0);
});
