import { expect, it } from 'vitest';
import { ratioTicks } from '../../../web/charts/ratio-ticks.ts';

const shown = (low: number, high: number) =>
  ratioTicks(Math.log(low), Math.log(high)).map((tick) => Number(Math.exp(tick).toFixed(4)));

it('are round numbers, three to seven of them, as coarse as the span allows', () => {
  expect(shown(0.4, 2.1)).toEqual([0.5, 1, 1.5, 2]);
  expect(shown(0.61, 0.68)).toEqual([0.62, 0.64, 0.66, 0.68]);
  const wide = shown(0.2, 40);
  expect(wide.length).toBeGreaterThanOrEqual(3);
  expect(wide.length).toBeLessThanOrEqual(7);
  expect(wide.every((tick) => tick > 0)).toBe(true);
});

it('are the two ends of a span too short for any round number', () => {
  expect(ratioTicks(0.1, 0.1001)).toEqual([0.1, 0.1001]);
});
