/**
 * Log-likelihood of Weibull lives, right-, left- and interval-censored and left-truncated, with first and second
 * derivatives.
 *
 * For: fitting (`weibull-fit.ts`, `weibull-classes.ts`) and averaging over what a fit leaves uncertain
 * (`weibull-posterior.ts`). With u = log scale, b = log shape, k = eᵇ, z(t) = k(log t − u), H(t) = e^z(t), a life watched
 * from `entry` on contributes H(entry) and
 *   −H(exit)                                        still at work at `exit`;
 *   b − log exit + z(exit) − H(exit)                failed at `exit`;
 *   log(e^−H(failedAfter) − e^−H(exit))             failed after `failedAfter`, by `exit`: nobody saw when.
 * A life that was already old when watching began counts only from then on; counting it from 0 would make the parts look
 * tougher and the wear-out steeper. Left-censored (known only to have failed by `exit`) is failedAfter = entry.
 * Valid for 0 ≤ entry < exit, finite, entry ≤ failedAfter ≤ exit. Times in any one unit; `event` 1 where the life ended
 * in a failure, else 0; `failedAfter`, where absent, is `exit` (the failure's time is known) and counts for failures
 * alone; `weight` ≥ 0, 1 where absent.
 * Throws StatisticsRefusal for arrays of unequal length and rows outside these bounds.
 *
 * @example // one failure at 1, shape 1, scale 1: log density −1
 * weibullLikelihood(checkedLives('fit', { entry: Float64Array.of(0), exit: Float64Array.of(1), event: Uint8Array.of(1) }),
 *   0, 0).value // −1
 */
import { StatisticsRefusal } from './refusal.ts';

export type Lives = {
  entry: Float64Array;
  exit: Float64Array;
  event: Uint8Array;
  failedAfter?: Float64Array;
  weight?: Float64Array;
};

/** What is known of the parameters beforehand: independent normal distributions of their logarithms. */
export type WeibullPrior = {
  logShapeMean: number;
  logShapeSd: number;
  logScaleMean?: number;
  logScaleSd?: number;
};

/** A function of (log scale, log shape) at a point: value, gradient, Hessian. */
export type Quadratic = { value: number; u: number; b: number; uu: number; ub: number; bb: number };

/** Lives with the logarithms taken once; a time of 0 becomes −Infinity, whose power is 0 for every shape. */
export type LogLives = {
  count: number;
  logEntry: Float64Array;
  logExit: Float64Array;
  /** Up to when it certainly worked: before `logExit` only where it failed at an unknown time in between. */
  logWorked: Float64Array;
  weight: Float64Array;
  /** Sum of the weights of the failures. */
  events: number;
  /** Of the failures whose time is known: sum of the weights, and of weight·log time. */
  known: number;
  sumLog: number;
  /** The failures between two times. */
  between: readonly number[];
};

export function checkedLives(what: string, lives: Lives): LogLives {
  const count = lives.exit.length;
  const { entry, exit, event, failedAfter = exit, weight = new Float64Array(count).fill(1) } = lives;
  for (const [name, column] of Object.entries({ entry, event, failedAfter, weight })) {
    if (column.length !== count) throw new StatisticsRefusal(what, `${count} values, one a life`, column.length, name);
  }
  let [events, known, sumLog] = [0, 0, 0];
  const between: number[] = [];
  const worked = exit.slice();
  for (let i = 0; i < count; i++) {
    const [from, to, after] = [entry[i]!, exit[i]!, failedAfter[i]!];
    if (!(from >= 0 && to > from && to < Infinity))
      throw new StatisticsRefusal(what, 'a life with 0 ≤ entry < exit', `${from} to ${to}`, `life ${i}`);
    if (!(weight[i]! >= 0)) throw new StatisticsRefusal(what, 'weights of at least 0', weight[i]!, `life ${i}`);
    if (event[i] !== 1) continue;
    if (!(after >= from && after <= to))
      throw new StatisticsRefusal(what, 'a failure after entry, by exit', `${after} in ${from} to ${to}`, `life ${i}`);
    events += weight[i]!;
    if (after < to) {
      worked[i] = after;
      between.push(i);
    } else {
      known += weight[i]!;
      sumLog += weight[i]! * Math.log(to);
    }
  }
  const [logEntry, logExit, logWorked] = [entry.map(Math.log), exit.map(Math.log), worked.map(Math.log)];
  return { count, logEntry, logExit, logWorked, weight, events, known, sumLog, between };
}

/**
 * A hazard H = e^z and its derivatives are H times powers of z (dz/du = −k, dz/db = z), so that three sums over the lives
 * hold them all; a failure of known time adds b − log t + z, which is linear in sums that are taken once.
 */
export function weibullLikelihood(lives: LogLives, logScale: number, logShape: number): Quadratic {
  const shape = Math.exp(logShape);
  const worked = hazardSums(lives.logWorked, lives.weight, shape, logScale);
  const entry = hazardSums(lives.logEntry, lives.weight, shape, logScale);
  const [h, hz, hzz] = [worked.h - entry.h, worked.hz - entry.hz, worked.hzz - entry.hzz];
  const { known, sumLog } = lives;
  const z = shape * (sumLog - known * logScale);
  const sum: Quadratic = {
    value: known * logShape - sumLog + z - h,
    u: shape * (h - known),
    b: known + z - hz,
    uu: -shape * shape * h,
    ub: shape * (h + hz - known),
    bb: z - hz - hzz,
  };
  for (const i of lives.between) {
    const ends = { worked: shape * (lives.logWorked[i]! - logScale), z: shape * (lives.logExit[i]! - logScale) };
    addFailureBetween(sum, lives.weight[i]!, shape, ends);
  }
  return sum;
}

/** Σ weight·H, Σ weight·H·z and Σ weight·H·z². */
function hazardSums(logTime: Float64Array, weight: Float64Array, shape: number, logScale: number) {
  let [h, hz, hzz] = [0, 0, 0];
  for (let i = 0; i < logTime.length; i++) {
    const z = shape * (logTime[i]! - logScale);
    if (z === -Infinity) continue;
    const hazard = weight[i]! * Math.exp(z);
    h += hazard;
    hz += hazard * z;
    hzz += hazard * z * z;
  }
  return { h, hz, hzz };
}

/** Beyond, e^−D is 0 to every digit: that it failed by then says nothing more. */
const CERTAIN = 700;

/**
 * Adds weight·log(1 − e^−D), where D = e^z − e^worked is the hazard gathered while nobody looked. With
 * g(D) = log(1 − e^−D): g' = 1/(e^D − 1), g'' = −e^D/(e^D − 1)².
 */
function addFailureBetween(
  sum: Quadratic,
  weight: number,
  shape: number,
  { worked, z }: { worked: number; z: number },
): void {
  const end = Math.exp(z);
  const share = Math.exp(worked - z);
  const hazard = -end * Math.expm1(worked - z);
  if (hazard > CERTAIN) return;
  // H_b = zH and H_bb = z(1 + z)H, which are 0 for the beginning of a life.
  const before = share === 0 ? 0 : share * worked;
  const u = -shape * hazard;
  const b = end * (z - before);
  const bb = end * (z * (1 + z) - (share === 0 ? 0 : before * (1 + worked)));
  const first = weight / Math.expm1(hazard);
  const second = first / Math.expm1(-hazard);
  sum.value += weight * Math.log(-Math.expm1(-hazard));
  sum.u += first * u;
  sum.b += first * b;
  sum.uu += first * shape * shape * hazard + second * u * u;
  sum.ub += first * -shape * (hazard + b) + second * u * b;
  sum.bb += first * bb + second * b * b;
}

/** Adds the log density of the prior, without its constant. */
export function addPrior(
  at: Quadratic,
  prior: WeibullPrior | undefined,
  logScale: number,
  logShape: number,
): Quadratic {
  if (prior === undefined) return at;
  const sum = { ...at };
  const shapeZ = (logShape - prior.logShapeMean) / prior.logShapeSd;
  sum.value -= 0.5 * shapeZ * shapeZ;
  sum.b -= shapeZ / prior.logShapeSd;
  sum.bb -= 1 / prior.logShapeSd ** 2;
  if (prior.logScaleMean === undefined || prior.logScaleSd === undefined) return sum;
  const scaleZ = (logScale - prior.logScaleMean) / prior.logScaleSd;
  sum.value -= 0.5 * scaleZ * scaleZ;
  sum.u -= scaleZ / prior.logScaleSd;
  sum.uu -= 1 / prior.logScaleSd ** 2;
  return sum;
}

/**
 * log Σ weight·(worked^shape − entry^shape), the exposure on the scale where the hazard is constant. With it the
 * likelihood at any scale of this shape needs no further pass over the lives whose end is known. `until` names the end:
 * up to when each certainly worked, or its exit. −Infinity where there is none.
 */
export function logExposure(lives: LogLives, shape: number, until: 'logWorked' | 'logExit' = 'logWorked'): number {
  const to = lives[until];
  let largest = -Infinity;
  for (let i = 0; i < lives.count; i++) largest = Math.max(largest, to[i]!);
  if (largest === -Infinity) return largest;
  let sum = 0;
  for (let i = 0; i < lives.count; i++) {
    const worked = Math.exp(shape * (to[i]! - largest));
    sum += lives.weight[i]! * (worked - Math.exp(shape * (lives.logEntry[i]! - largest)));
  }
  return shape * largest + Math.log(sum);
}
