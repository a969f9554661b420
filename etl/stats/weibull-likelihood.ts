/**
 * Log-likelihood of Weibull lives, right-censored and left-truncated, with its first and second derivatives.
 *
 * For: fitting (`weibull-fit.ts`) and averaging over what a fit leaves uncertain (`weibull-posterior.ts`).
 * With u = log scale, b = log shape, k = eᵇ, z = k(log t − u), a life watched from `entry` to `exit` contributes
 *   event·(b − log exit + z(exit)) − e^z(exit) + e^z(entry):
 * the hazard if it failed, less the cumulative hazard over the time it was watched. A life that was already old when
 * watching began counts only from then on; counting it from 0 would make the parts look tougher and the wear-out steeper.
 * Valid for 0 ≤ entry < exit, finite. Times in any one unit; `event` 1 where the life ended in a failure, else 0;
 * `weight` ≥ 0, 1 where absent.
 * Throws StatisticsRefusal for arrays of unequal length and rows outside these bounds.
 *
 * @example // one failure at 1, shape 1, scale 1: log density −1
 * weibullLikelihood(checkedLives('fit', { entry: Float64Array.of(0), exit: Float64Array.of(1), event: Uint8Array.of(1) }),
 *   0, 0).value // −1
 */
import { StatisticsRefusal } from './refusal.ts';

export type Lives = { entry: Float64Array; exit: Float64Array; event: Uint8Array; weight?: Float64Array };

/** What is known of the parameters beforehand: independent normal distributions of their logarithms. */
export type WeibullPrior = {
  logShapeMean: number;
  logShapeSd: number;
  logScaleMean?: number;
  logScaleSd?: number;
};

/** A function of (log scale, log shape) at a point: value, gradient, Hessian. */
export type Quadratic = { value: number; u: number; b: number; uu: number; ub: number; bb: number };

/** Lives with the logarithms taken once; entry 0 becomes −Infinity, whose power is 0 for every shape. */
export type LogLives = {
  count: number;
  logEntry: Float64Array;
  logExit: Float64Array;
  event: Uint8Array;
  weight: Float64Array;
  /** Sum of the weights of the failures. */
  events: number;
};

export function checkedLives(what: string, lives: Lives): LogLives {
  const count = lives.exit.length;
  const weight = lives.weight ?? new Float64Array(count).fill(1);
  for (const [name, column] of Object.entries({ entry: lives.entry, event: lives.event, weight })) {
    if (column.length !== count) throw new StatisticsRefusal(what, `${count} values, one a life`, column.length, name);
  }
  let events = 0;
  for (let i = 0; i < count; i++) {
    const [entry, exit] = [lives.entry[i]!, lives.exit[i]!];
    if (!(entry >= 0 && exit > entry && exit < Infinity)) {
      throw new StatisticsRefusal(what, 'a life with 0 ≤ entry < exit', `${entry} to ${exit}`, `life ${i}`);
    }
    if (!(weight[i]! >= 0)) throw new StatisticsRefusal(what, 'weights of at least 0', weight[i]!, `life ${i}`);
    events += lives.event[i]! * weight[i]!;
  }
  const logEntry = lives.entry.map(Math.log);
  return { count, logEntry, logExit: lives.exit.map(Math.log), event: lives.event, weight, events };
}

export function weibullLikelihood(lives: LogLives, logScale: number, logShape: number): Quadratic {
  const shape = Math.exp(logShape);
  const sum: Quadratic = { value: 0, u: 0, b: 0, uu: 0, ub: 0, bb: 0 };
  for (let i = 0; i < lives.count; i++) {
    const weight = lives.weight[i]!;
    const z = shape * (lives.logExit[i]! - logScale);
    if (lives.event[i] === 1) {
      sum.value += weight * (logShape - lives.logExit[i]! + z);
      sum.u -= weight * shape;
      sum.b += weight * (1 + z);
      sum.ub -= weight * shape;
      sum.bb += weight * z;
    }
    addHazard(sum, weight, shape, z);
    if (lives.logEntry[i]! > -Infinity) addHazard(sum, -weight, shape, shape * (lives.logEntry[i]! - logScale));
  }
  return sum;
}

/** Subtracts weight·e^z, with its derivatives: dz/du = −k, dz/db = z. */
function addHazard(sum: Quadratic, weight: number, shape: number, z: number): void {
  const hazard = weight * Math.exp(z);
  sum.value -= hazard;
  sum.u += hazard * shape;
  sum.b -= hazard * z;
  sum.uu -= hazard * shape * shape;
  sum.ub += hazard * shape * (1 + z);
  sum.bb -= hazard * z * (1 + z);
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
 * log Σ weight·(exit^shape − entry^shape), the exposure on the scale where the hazard is constant. With it the
 * likelihood at any scale of this shape needs no further pass over the lives. −Infinity for no lives.
 */
export function logExposure(lives: LogLives, shape: number): number {
  let largest = -Infinity;
  for (let i = 0; i < lives.count; i++) largest = Math.max(largest, lives.logExit[i]!);
  let sum = 0;
  for (let i = 0; i < lives.count; i++) {
    const exit = Math.exp(shape * (lives.logExit[i]! - largest));
    sum += lives.weight[i]! * (exit - Math.exp(shape * (lives.logEntry[i]! - largest)));
  }
  return lives.count === 0 ? -Infinity : shape * largest + Math.log(sum);
}
