/**
 * Weibull fit to lives: maximum likelihood, or with a prior the posterior mode. Right-, left- and interval-censored and
 * left-truncated as in `weibull-likelihood.ts`.
 *
 * For: how long a component of a class lasts. Valid for independent lives of one kind. Times in any one unit.
 * Newton's method on (log scale, log shape) with analytic derivatives.
 * Throws StatisticsRefusal for rows out of bounds, a prior that is no distribution, and lives that hold nothing to fit:
 * no failure and no prior for the scale. A likelihood that climbs for ever (one failure, later than every other life)
 * comes back with `converged: false` and must not be used.
 *
 * @example // NIST/SEMATECH e-Handbook 8.4.1.3: ten failures, ten still running at 500 h
 * fitWeibull({ entry, exit, event }) // { shape: 1.7208, scale: 606.5, logLikelihood: −75.135, events: 10, … }
 */
import { newtonMaximum, type Expansion } from './newton-maximum.ts';
import { StatisticsRefusal } from './refusal.ts';
import type { Lives, LogLives, Quadratic, WeibullPrior } from './weibull-likelihood.ts';
import { addPrior, checkedLives, logExposure, weibullLikelihood } from './weibull-likelihood.ts';
import type { Weibull } from './weibull.ts';

export type { Lives, WeibullPrior } from './weibull-likelihood.ts';

export type WeibullFit = {
  shape: number;
  scale: number;
  /** Without the prior's share. */
  logLikelihood: number;
  /** Inverse of the negative Hessian in the order (log scale, log shape); the shape's row is 0 where it was fixed. */
  covariance: readonly [readonly [number, number], readonly [number, number]];
  /** Sum of the weights of the failures. */
  events: number;
  converged: boolean;
};

export type WeibullFitOptions = {
  prior?: WeibullPrior;
  fixedShape?: number;
  /** Where to begin, if something near is known. */
  start?: Weibull;
};

/** Where the search begins without a prior: between constant hazard and the wear-out of starters and batteries. */
const FIRST_SHAPE = 1.5; // from memory
/** A shape outside e^±LOG_SHAPE_LIMIT is no life any more but a likelihood that has run off. */
export const LOG_SHAPE_LIMIT = 7;

export function fitWeibull(lives: Lives, options: WeibullFitOptions = {}): WeibullFit {
  const { prior, fixedShape } = options;
  const known = checkedLives('fitWeibull', lives);
  if (fixedShape !== undefined && !(fixedShape > 0 && fixedShape < Infinity))
    throw new StatisticsRefusal('fitWeibull', 'a finite shape above 0', fixedShape, 'fixedShape');
  checkPrior('fitWeibull', prior);
  checkHoldsSomething('fitWeibull', known.events, prior);
  const start = options.start === undefined ? firstGuess([known], prior, fixedShape) : pointOf(options.start);
  const target = (u: number, b: number): Quadratic => addPrior(weibullLikelihood(known, u, b), prior, u, b);
  const top =
    fixedShape === undefined
      ? newtonMaximum(
          (x) => inBoth(target(x[0]!, x[1]!)),
          start,
          (x) => Math.abs(x[1]!) <= LOG_SHAPE_LIMIT,
        )
      : newtonMaximum((x) => inScale(target(x[0]!, start[1]!)), start.subarray(0, 1));
  const [u, b] = [top.x[0]!, top.x[1] ?? start[1]!];
  return {
    shape: fixedShape ?? Math.exp(b),
    scale: Math.exp(u),
    logLikelihood: weibullLikelihood(known, u, b).value,
    covariance: covarianceOf(top.at),
    events: known.events,
    converged: top.converged,
  };
}

export function pointOf({ scale, shape }: Weibull): Float64Array {
  return Float64Array.of(Math.log(scale), Math.log(shape));
}

function inBoth({ value, u, b, uu, ub, bb }: Quadratic): Expansion {
  return { value, gradient: Float64Array.of(u, b), hessian: Float64Array.of(uu, ub, ub, bb) };
}

function inScale({ value, u, uu }: Quadratic): Expansion {
  return { value, gradient: Float64Array.of(u), hessian: Float64Array.of(uu) };
}

export function checkHoldsSomething(what: string, events: number, prior: WeibullPrior | undefined): void {
  if (events === 0 && prior?.logScaleSd === undefined)
    throw new StatisticsRefusal(what, 'a failure or a prior for the scale', '0 failures', 'lives');
}

export function checkPrior(what: string, prior: WeibullPrior | undefined): void {
  if (prior === undefined) return;
  if ((prior.logScaleMean === undefined) !== (prior.logScaleSd === undefined)) {
    throw new StatisticsRefusal(what, 'mean and sd of the log scale together', 'one of them', 'prior');
  }
  for (const name of ['logShapeMean', 'logScaleMean'] as const) {
    const mean = prior[name] ?? 0;
    if (!Number.isFinite(mean)) throw new StatisticsRefusal(what, 'a finite mean', mean, `prior.${name}`);
  }
  for (const name of ['logShapeSd', 'logScaleSd'] as const) {
    const sd = prior[name] ?? 1;
    if (!(sd > 0 && sd < Infinity)) throw new StatisticsRefusal(what, 'a finite sd above 0', sd, `prior.${name}`);
  }
}

/** Log scale and log shape to begin with: for a given shape the likeliest scale is the exposure per failure. */
export function firstGuess(
  all: readonly LogLives[],
  prior: WeibullPrior | undefined,
  fixedShape?: number,
): Float64Array {
  const b = Math.log(fixedShape ?? (prior === undefined ? FIRST_SHAPE : Math.exp(prior.logShapeMean)));
  const events = all.reduce((sum, lives) => sum + lives.events, 0);
  if (events === 0) return Float64Array.of(prior!.logScaleMean!, b);
  const shape = Math.exp(b);
  const exposures = all.map((lives) => logExposure(lives, shape, 'logExit'));
  const largest = Math.max(...exposures);
  const exposure = largest + Math.log(exposures.reduce((sum, each) => sum + Math.exp(each - largest), 0));
  return Float64Array.of((exposure - Math.log(events)) / shape, b);
}

/** Inverse of the negative Hessian; where only the scale was free, the shape's row and column are 0. */
function covarianceOf({ hessian }: Expansion): WeibullFit['covariance'] {
  const [uu, ub, , bb] = hessian;
  if (bb === undefined) return [[-1 / uu!, 0], [0, 0]]; // prettier-ignore
  const determinant = uu! * bb - ub! * ub!;
  const both = ub! / determinant;
  return [
    [-bb / determinant, both],
    [both, -uu! / determinant],
  ];
}
