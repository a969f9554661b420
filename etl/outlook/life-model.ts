/**
 * How long a class's parts last: Weibull by component and class from the fleet's service lives, censored to the right and
 * between the last good crank and the repair, left-truncated, with a prior, partially pooled.
 *
 * First the fleet: all classes together under the prior of `life-prior.ts`; it serves units of a class without lives.
 * Then each class, under what the other classes say as its prior: their common life, fitted with a departure for each,
 * and how far a class departs from it. So a class of few failures says what the others say, and none is counted twice.
 * A part whose fitting nobody recorded enters with its possible ages, weighted (`life-rows.ts`). What stays uncertain is
 * kept as a weighted grid, and forecasts are averaged over it.
 * The rung of evidence: no event `prior`; under 10 pooled shape, shrunk scale; under 30 own scale; else both own.
 * Days throughout.
 */
import { dayNumber } from '../model/time.ts';
import type { ForecastComponent } from '../model/words.ts';
import { kaplanMeier } from '../stats/kaplan-meier.ts';
import { fitWeibullClasses } from '../stats/weibull-classes.ts';
import { fitWeibull, type Lives, type WeibullFit, type WeibullPrior } from '../stats/weibull-fit.ts';
import { weibullPosteriorGrid } from '../stats/weibull-posterior.ts';
import { weibullMean, type Weibull } from '../stats/weibull.ts';
import {
  CLASS_LOG_SCALE_SD,
  CLASS_LOG_SHAPE_SD,
  LIFE_PRIOR,
  OWN_SCALE_EVENTS,
  OWN_SHAPE_EVENTS,
} from './life-prior.ts';
import { likelihoodRows, watchOf, type ClassedLife } from './life-rows.ts';

export type { ClassedLife } from './life-rows.ts';

export type LifeModel = {
  /** Best single pair, for reasons in words and for what a day of life is worth. */
  best: Weibull;
  meanDays: number;
  /** Nodes of the posterior with their weights (sum 1). */
  shape: number[];
  scale: number[];
  weight: number[];
  events: number;
  lives: number;
  rung: 'prior' | 'pooled_shape' | 'own_scale' | 'own_both';
  /** Age by which half had failed as observed (Kaplan–Meier with delayed entry); null where it never falls so low. */
  medianDays: number | null;
};

/** By component, then class; '' is the fleet. */
export type LifeModels = Record<ForecastComponent, Record<string, LifeModel>>;

export function fitLifeModels(lives: readonly ClassedLife[]): LifeModels {
  return { battery: fitComponent(lives, 'battery'), starter: fitComponent(lives, 'starter') };
}

function fitComponent(all: readonly ClassedLife[], component: ForecastComponent): Record<string, LifeModel> {
  const lives = all.filter((life) => life.component === component);
  const { shape, logShapeSd, scaleDays, logScaleSd } = LIFE_PRIOR[component];
  const prior = { logShapeMean: Math.log(shape), logShapeSd, logScaleMean: Math.log(scaleDays), logScaleSd };
  const fleet = modelOf(lives, prior, { shape, scale: scaleDays });
  const names = [...new Set(lives.map((life) => life.class))].sort();
  const classes = names.map((name) => classOf(lives.filter((life) => life.class === name)));
  const rows = classes.map((own) => likelihoodRows(own.lives.map(watchOf), fleet.best));
  const models: Record<string, LifeModel> = { '': fleet };
  names.forEach((name, c) => {
    const others = rows.filter((_, k) => k !== c);
    const whole = fitWeibullClasses(others, {
      prior,
      scaleSd: others.map(() => CLASS_LOG_SCALE_SD),
      shapeSd: others.map(() => CLASS_LOG_SHAPE_SD),
      start: fleet.best,
    });
    const own = classes[c]!;
    models[name] = modelOf(own.lives, departing(whole.converged ? whole : asWhole(fleet), own), fleet.best);
  });
  return models;

  function classOf(own: readonly ClassedLife[]) {
    const events = own.filter((life) => life.end === 'failure').length;
    return {
      lives: own,
      scaleSd: CLASS_LOG_SCALE_SD * (events >= OWN_SCALE_EVENTS ? 2 : 1),
      shapeSd: events >= OWN_SHAPE_EVENTS ? logShapeSd : CLASS_LOG_SHAPE_SD,
    };
  }
}

type Whole = Weibull & { covariance: readonly [readonly [number, number], readonly [number, number]] };

/** What the others say of a class: their common life, as uncertain as it is, and the class's own departure from it. */
function departing(
  { scale, shape, covariance }: Whole,
  { scaleSd, shapeSd }: { scaleSd: number; shapeSd: number },
): Required<WeibullPrior> {
  return {
    logScaleMean: Math.log(scale),
    logScaleSd: Math.hypot(Math.sqrt(covariance[0][0]), scaleSd),
    logShapeMean: Math.log(shape),
    logShapeSd: Math.hypot(Math.sqrt(covariance[1][1]), shapeSd),
  };
}

/** Where the others have no common life (all failures at one age): the fleet's, spread as its grid is. */
function asWhole({ best, scale, shape, weight }: LifeModel): Whole {
  const variance = (values: readonly number[]) => {
    const mean = values.reduce((sum, value, k) => sum + weight[k]! * Math.log(value), 0);
    return values.reduce((sum, value, k) => sum + weight[k]! * (Math.log(value) - mean) ** 2, 0);
  };
  return {
    ...best,
    covariance: [
      [variance(scale), 0],
      [0, variance(shape)],
    ],
  };
}

/** Halvings of the prior's width: at the last a hundred failures of one age hardly move the shape. */
const MOST_HALVINGS = 6;

/**
 * Many failures at one and the same age (a whole batch written off on one day) make the likelihood run off to an
 * endless shape. The prior of the shape is narrowed until there is a maximum.
 */
function heldFit(
  rows: Lives,
  prior: Required<WeibullPrior>,
  start: Weibull,
): { fit: WeibullFit; held: Required<WeibullPrior> } {
  const held = { ...prior };
  let fit = fitWeibull(rows, { prior: held, start });
  for (let turn = 0; turn < MOST_HALVINGS && !fit.converged; turn++) {
    held.logShapeSd /= 2;
    fit = fitWeibull(rows, { prior: held });
  }
  return { fit, held };
}

/** Turns of weighing the possible ages and fitting: on simulated fleets four to seven bring the scale to rest. */
const MOST_TURNS = 8;
const SAME_LOG_SCALE = 0.01;

function modelOf(lives: readonly ClassedLife[], prior: Required<WeibullPrior>, believed: Weibull): LifeModel {
  const watched = lives.map(watchOf);
  let rows = likelihoodRows(watched, believed);
  let { fit, held } = heldFit(rows, prior, believed);
  let moved = Math.abs(Math.log(fit.scale / believed.scale));
  for (let turn = 1; turn < MOST_TURNS && moved > SAME_LOG_SCALE && rows.exit.length > lives.length; turn++) {
    const before = fit.scale;
    rows = likelihoodRows(watched, fit);
    ({ fit, held } = heldFit(rows, prior, fit));
    moved = Math.abs(Math.log(fit.scale / before));
  }
  const grid = weibullPosteriorGrid(rows, { prior: held, step: 1.25, leastWeight: 2e-3 });
  const best = { shape: fit.shape, scale: fit.scale };
  const events = lives.filter((life) => life.end === 'failure').length;
  return {
    best,
    meanDays: weibullMean(best),
    shape: [...grid.shape],
    scale: [...grid.scale],
    weight: [...grid.weight],
    events,
    lives: lives.length,
    rung:
      events === 0
        ? 'prior'
        : events < OWN_SCALE_EVENTS
          ? 'pooled_shape'
          : events < OWN_SHAPE_EVENTS
            ? 'own_scale'
            : 'own_both',
    medianDays: observedMedian(lives),
  };
}

/** At least so many at risk, or the curve says nothing (a risk set of one falls to 0 at once). */
const LEAST_AT_RISK = 5;

function observedMedian(lives: readonly ClassedLife[]): number | null {
  const dated = lives.filter((life) => life.fittedOn !== null && life.watchedToOn > life.watchedFromOn);
  if (dated.length < LEAST_AT_RISK) return null;
  const age = (on: string, life: ClassedLife) => dayNumber(on) - dayNumber(life.fittedOn!);
  const curve = kaplanMeier({
    entry: Float64Array.from(dated, (life) => Math.max(0, age(life.watchedFromOn, life))),
    exit: Float64Array.from(dated, (life) => age(life.watchedToOn, life)),
    event: Uint8Array.from(dated, (life) => (life.end === 'failure' ? 1 : 0)),
  });
  const below = curve.survival.findIndex((value) => value <= 0.5);
  if (below < 0 || curve.atRisk.subarray(0, below + 1).some((count) => count < LEAST_AT_RISK)) return null;
  return curve.time[below]!;
}
