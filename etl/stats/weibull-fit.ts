/**
 * Weibull fit to right-censored, left-truncated lives: maximum likelihood, or with a prior the posterior mode.
 *
 * For: how long a component of a class lasts. Valid for independent lives of one kind. Times in any one unit.
 * Newton's method on (log scale, log shape) with analytic derivatives; where the Hessian is not negative definite its
 * diagonal is raised until it is, and a step that does not climb is halved (an undamped Newton runs off on hard data).
 * Throws StatisticsRefusal for rows out of bounds, a prior that is no distribution, and lives that hold nothing to fit:
 * no failure and no prior for the scale. A likelihood that climbs for ever (one failure, later than every other life)
 * comes back with `converged: false` and must not be used.
 *
 * @example // NIST/SEMATECH e-Handbook 8.4.1.3: ten failures, ten still running at 500 h
 * fitWeibull({ entry, exit, event }) // { shape: 1.7208, scale: 606.5, logLikelihood: −75.135, events: 10, … }
 */
import { StatisticsRefusal } from './refusal.ts';
import type { Lives, LogLives, Quadratic, WeibullPrior } from './weibull-likelihood.ts';
import { addPrior, checkedLives, logExposure, weibullLikelihood } from './weibull-likelihood.ts';

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

export type WeibullFitOptions = { prior?: WeibullPrior; fixedShape?: number };

/** Where the search begins without a prior: between constant hazard and the wear-out of starters and batteries. */
const FIRST_SHAPE = 1.5; // from memory
const MAX_STEPS = 100; // common practice: ten are enough where a maximum exists
/** Newton decrement (twice the gain in log-likelihood still to be had) below which the search ends. */
const ENOUGH = 1e-18;
/** A shape outside e^±LOG_SHAPE_LIMIT is no life any more but a likelihood that has run off. */
const LOG_SHAPE_LIMIT = 7;

export function fitWeibull(lives: Lives, options: WeibullFitOptions = {}): WeibullFit {
  const { prior, fixedShape } = options;
  const known = checkedLives('fitWeibull', lives);
  checkPrior(prior, fixedShape);
  if (known.events === 0 && prior?.logScaleSd === undefined) {
    throw new StatisticsRefusal('fitWeibull', 'a failure or a prior for the scale', '0 failures', 'lives');
  }
  const start = firstGuess(known, prior, fixedShape);
  const target = (u: number, b: number): Quadratic => addPrior(weibullLikelihood(known, u, b), prior, u, b);
  const top = climb(target, start, fixedShape !== undefined);
  return {
    shape: fixedShape ?? Math.exp(top.b),
    scale: Math.exp(top.u),
    logLikelihood: weibullLikelihood(known, top.u, top.b).value,
    covariance: covarianceAt(top.at, fixedShape !== undefined),
    events: known.events,
    converged: top.converged,
  };
}

function checkPrior(prior: WeibullPrior | undefined, fixedShape: number | undefined): void {
  const what = 'fitWeibull';
  if (fixedShape !== undefined && !(fixedShape > 0 && fixedShape < Infinity)) {
    throw new StatisticsRefusal(what, 'a finite shape above 0', fixedShape, 'fixedShape');
  }
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

/** For a given shape the most likely scale has a closed form: exposure per failure. */
function firstGuess(lives: LogLives, prior: WeibullPrior | undefined, fixedShape: number | undefined): Point {
  const b = Math.log(fixedShape ?? (prior === undefined ? FIRST_SHAPE : Math.exp(prior.logShapeMean)));
  if (lives.events === 0) return { u: prior!.logScaleMean!, b };
  return { u: (logExposure(lives, Math.exp(b)) - Math.log(lives.events)) / Math.exp(b), b };
}

type Point = { u: number; b: number };
type Top = Point & { at: Quadratic; converged: boolean };

function climb(target: (u: number, b: number) => Quadratic, start: Point, shapeFixed: boolean): Top {
  let { u, b } = start;
  let at = target(u, b);
  for (let count = 0; count < MAX_STEPS; count++) {
    const step = uphill(at, shapeFixed);
    if (step.gain < ENOUGH) return { u, b, at, converged: true };
    let share = 1;
    let next = target(u + step.u, b + step.b);
    while (!(next.value > at.value) && share > 1e-8) {
      share /= 2;
      next = target(u + share * step.u, b + share * step.b);
    }
    // No step climbs any more: the last digits of the log-likelihood are reached.
    if (!(next.value > at.value)) return { u, b, at, converged: step.gain < 1e-9 };
    u += share * step.u;
    b += share * step.b;
    at = next;
    if (Math.abs(b) > LOG_SHAPE_LIMIT) break;
  }
  return { u, b, at, converged: false };
}

/** Newton's step on the Hessian, its negative raised to positive definite by a multiple of its diagonal. */
function uphill(at: Quadratic, shapeFixed: boolean): Point & { gain: number } {
  if (shapeFixed) {
    const u = at.u / Math.max(-at.uu, Math.abs(at.u), 1e-12);
    return { u: at.uu < 0 ? -at.u / at.uu : u, b: 0, gain: at.uu < 0 ? (at.u * at.u) / -at.uu : Infinity };
  }
  let raise = 0;
  for (;;) {
    const uu = -at.uu + raise * Math.max(Math.abs(at.uu), 1e-12);
    const bb = -at.bb + raise * Math.max(Math.abs(at.bb), 1e-12);
    const determinant = uu * bb - at.ub * at.ub;
    if (uu > 0 && determinant > 1e-14 * uu * bb) {
      const u = (bb * at.u + at.ub * at.b) / determinant;
      const b = (uu * at.b + at.ub * at.u) / determinant;
      return { u, b, gain: raise === 0 ? u * at.u + b * at.b : Infinity };
    }
    raise = raise === 0 ? 1e-3 : raise * 4;
  }
}

function covarianceAt(at: Quadratic, shapeFixed: boolean): WeibullFit['covariance'] {
  if (shapeFixed) {
    return [
      [-1 / at.uu, 0],
      [0, 0],
    ];
  }
  const determinant = at.uu * at.bb - at.ub * at.ub;
  const both = at.ub / determinant;
  return [
    [-at.bb / determinant, both],
    [both, -at.uu / determinant],
  ];
}
