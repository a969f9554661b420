import { expect, test } from 'vitest';
import { aucAtHorizon } from '../../etl/stats/auc-at-horizon.ts';
import { brierScore } from '../../etl/stats/brier-score.ts';
import { calibrationGroups } from '../../etl/stats/calibration-groups.ts';
import { calibrationInTheLarge } from '../../etl/stats/calibration-in-the-large.ts';
import { horizonWeights } from '../../etl/stats/censoring-weights.ts';

/**
 * A failure on the day of the horizon came by the horizon, one loses sight on that day after the failures of that day.
 * By hand: the censoring at 90 meets two (itself and the one that goes on), so G(90) = 1/2 and the weights are 1, 1, 0, 2.
 */
const FOUR = {
  time: Float64Array.of(50, 90, 90, 100),
  event: Uint8Array.of(1, 1, 0, 0),
  pFail: Float64Array.of(0.8, 0.6, 0.5, 0.7),
};

test('a failure on the horizon weighs as one, a censoring there nothing, what goes on for both', () => {
  expect([...horizonWeights(FOUR, 90)]).toEqual([1, 1, 0, 2]);
  expect([...horizonWeights({ time: Float64Array.of(2, 2, 2, 5), event: Uint8Array.of(1, 1, 0, 0) }, 3)]).toEqual([
    1, 1, 0, 2,
  ]);
});

test('each score takes a failure on the horizon as come', () => {
  // (0.2² + 0.4² + 0 + 2 · 0.7²) / 4
  expect(brierScore(FOUR, 90)).toBeCloseTo(0.295, 12);
  // 0.8 was above 0.7, 0.6 below.
  expect(aucAtHorizon({ time: FOUR.time, event: FOUR.event, score: FOUR.pFail }, 90)).toBe(0.5);
  expect(calibrationInTheLarge(FOUR, 90)).toMatchObject({ observed: 2, expected: expect.closeTo(2.6, 12) as number });
  // Kaplan–Meier: 3/4, then 2/3 of it.
  expect(calibrationGroups(FOUR, 90, [Infinity])[0]?.observed).toBeCloseTo(0.5, 12);
});

test('a group whose only failure is its first leaves the curve at its first step', () => {
  const one = { time: Float64Array.of(10, 95), event: Uint8Array.of(1, 0), pFail: Float64Array.of(0.5, 0.5) };
  expect(calibrationGroups(one, 90, [Infinity])[0]?.observed).toBeCloseTo(0.5, 12);
});

test('ranking requires somebody on each side of the horizon, and says which side is empty', () => {
  const rows = { time: FOUR.time, score: FOUR.pFail };
  expect(() => aucAtHorizon({ ...rows, event: Uint8Array.of(0, 0, 0, 0) }, 90)).toThrow('got no failure');
  expect(() => aucAtHorizon({ ...rows, event: Uint8Array.of(1, 1, 1, 1) }, 100)).toThrow('got none beyond');
});
