/**
 * Calibration in the large: failures that came, over failures that were expected.
 *
 * For: whether a fleet's forecasts are too dark or too light on the whole. 1 is right, over 1 too few were foreseen.
 * Failures by the horizon weighed for censoring (`horizonWeights`), over the sum of the forecast probabilities.
 * Throws StatisticsRefusal as `brierScore` does, and where nothing was expected. O(n log n).
 *
 * @example // ten forecasts that add up to 4, of which 4 failed: 1
 */
import { checkedForecasts, type Forecasted } from './brier-score.ts';
import { horizonWeights } from './censoring-weights.ts';
import { StatisticsRefusal } from './refusal.ts';

export type InTheLarge = { observed: number; expected: number; ratio: number };

export function calibrationInTheLarge(rows: Forecasted, horizon: number): InTheLarge {
  const { time, pFail } = checkedForecasts('calibrationInTheLarge', rows);
  const weight = horizonWeights(rows, horizon);
  let [observed, expected] = [0, 0];
  for (let i = 0; i < time.length; i++) {
    if (time[i]! <= horizon) observed += weight[i]!;
    expected += pFail[i]!;
  }
  if (!(expected > 0)) throw new StatisticsRefusal('calibrationInTheLarge', 'failures expected', expected, 'pFail');
  return { observed, expected, ratio: observed / expected };
}
