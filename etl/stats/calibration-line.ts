/**
 * Calibration slope and intercept: the logistic line of what happened on the logit of what was forecast.
 *
 * For: whether forecasts are too sure of themselves. Slope 1 is right; under 1 the forecasts are too extreme, over 1 too
 * timid. The intercept is that with the slope held at 1: 0 is right, over 0 too few failures were foreseen
 * (Cox 1958; Van Calster and others 2019). Rows lost sight of before the horizon weigh 0, the others by
 * `horizonWeights`. Probabilities of 0 and 1 have no logit and are drawn in to LEAST and 1 − LEAST.
 * Newton's method with step halving. Throws StatisticsRefusal where all failed or none, or all forecasts are equal. O(n).
 *
 * @example // as R: glm(failed ~ qlogis(p), binomial, weights) and glm(failed ~ offset(qlogis(p)), …)
 */
import { checkedForecasts, type Forecasted } from './brier-score.ts';
import { horizonWeights } from './censoring-weights.ts';
import { StatisticsRefusal } from './refusal.ts';

export type CalibrationLine = { slope: number; intercept: number };

/** No forecast here is worth more than one in ten thousand. Convention of this program. */
const LEAST = 1e-4;
const MAX_STEPS = 60; // common practice: six are enough where a maximum exists

type Rows = { x: Float64Array; failed: Float64Array; weight: Float64Array };

export function calibrationLine(rows: Forecasted, horizon: number): CalibrationLine {
  const { time, pFail } = checkedForecasts('calibrationLine', rows);
  const x = pFail.map((p) => logit(Math.min(1 - LEAST, Math.max(LEAST, p))));
  const failed = time.map((t) => Number(t <= horizon));
  const weighted = { x, failed, weight: horizonWeights(rows, horizon) };
  check(weighted);
  return { slope: climb(weighted, true).slope, intercept: climb(weighted, false).intercept };
}

function logit(p: number): number {
  return Math.log(p / (1 - p));
}

function climb(rows: Rows, free: boolean): CalibrationLine {
  let at = { slope: 1, intercept: 0 };
  let value = likelihood(rows, at);
  for (let step = 0; step < MAX_STEPS; step++) {
    const [dIntercept, dSlope] = newtonStep(rows, at, free);
    let share = 1;
    let next = at;
    let reached = -Infinity;
    while (share > 1e-9 && !(reached >= value)) {
      next = { slope: at.slope + share * dSlope, intercept: at.intercept + share * dIntercept };
      reached = likelihood(rows, next);
      share /= 2;
    }
    const moved = Math.abs(next.slope - at.slope) + Math.abs(next.intercept - at.intercept);
    at = next;
    value = reached;
    if (moved < 1e-12) break;
  }
  return at;
}

function likelihood({ x, failed, weight }: Rows, { slope, intercept }: CalibrationLine): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    if (weight[i] === 0) continue;
    const eta = intercept + slope * x[i]!;
    sum += weight[i]! * (failed[i]! * eta - Math.max(0, eta) - Math.log1p(Math.exp(-Math.abs(eta))));
  }
  return sum;
}

function newtonStep({ x, failed, weight }: Rows, { slope, intercept }: CalibrationLine, free: boolean) {
  let [g0, g1, h00, h01, h11] = [0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const p = 1 / (1 + Math.exp(-intercept - slope * x[i]!));
    const [lack, spread] = [weight[i]! * (failed[i]! - p), weight[i]! * p * (1 - p)];
    g0 += lack;
    g1 += lack * x[i]!;
    h00 += spread;
    h01 += spread * x[i]!;
    h11 += spread * x[i]! * x[i]!;
  }
  if (!free) return [g0 / h00, 0] as const;
  const determinant = h00 * h11 - h01 * h01;
  return [(h11 * g0 - h01 * g1) / determinant, (h00 * g1 - h01 * g0) / determinant] as const;
}

function check({ x, failed, weight }: Rows): void {
  const what = 'calibrationLine';
  const counted = x.filter((_, i) => weight[i]! > 0);
  const failures = failed.filter((each, i) => each === 1 && weight[i]! > 0).length;
  if (failures === 0 || failures === counted.length)
    throw new StatisticsRefusal(
      what,
      'some that failed and some that did not',
      `${failures} of ${counted.length}`,
      'rows',
    );
  if (!(counted.reduce((a, b) => Math.max(a, b)) - counted.reduce((a, b) => Math.min(a, b)) > 1e-9))
    throw new StatisticsRefusal(what, 'forecasts that differ', 'equal ones', 'pFail');
}
