/**
 * How long a class's parts last: Weibull by component and class from the fleet's service lives, right-censored and
 * left-truncated, with a prior, partially pooled.
 *
 * First the fleet: all classes together under the prior of `life-prior.ts`. Then each class under the fleet's fit as its
 * prior, so that a class with few failures says what the fleet says. A part whose fitting nobody recorded enters with
 * its possible ages, weighted. What stays uncertain is kept as a weighted grid, and forecasts are averaged over it.
 * The rung of evidence: no event `prior`; under 10 pooled shape, shrunk scale; under 30 own scale; else both own.
 * Days throughout.
 */
import { dayNumber } from '../model/time.ts';
import type { ServiceLife } from '../model/service-life.ts';
import type { ForecastComponent } from '../model/words.ts';
import { kaplanMeier } from '../stats/kaplan-meier.ts';
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
import { agesWhenMet } from './unknown-age.ts';

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

export type ClassedLife = ServiceLife & { class: string; unitInServiceOn: string | null };

export function fitLifeModels(lives: readonly ClassedLife[]): LifeModels {
  return { battery: fitComponent(lives, 'battery'), starter: fitComponent(lives, 'starter') };
}

function fitComponent(all: readonly ClassedLife[], component: ForecastComponent): Record<string, LifeModel> {
  const lives = all.filter((life) => life.component === component);
  const prior = LIFE_PRIOR[component];
  const start: Weibull = { shape: prior.shape, scale: prior.scaleDays };
  const fleetPrior = {
    logShapeMean: Math.log(prior.shape),
    logShapeSd: prior.logShapeSd,
    logScaleMean: Math.log(prior.scaleDays),
    logScaleSd: prior.logScaleSd,
  };
  const fleet = modelOf(lives, fleetPrior, start);
  const models: Record<string, LifeModel> = { '': fleet };
  for (const name of [...new Set(lives.map((life) => life.class))].sort()) {
    const own = lives.filter((life) => life.class === name);
    const events = own.filter((life) => life.end === 'failure').length;
    const classPrior = {
      logShapeMean: Math.log(fleet.best.shape),
      logShapeSd: events >= OWN_SHAPE_EVENTS ? prior.logShapeSd : CLASS_LOG_SHAPE_SD,
      logScaleMean: Math.log(fleet.best.scale),
      logScaleSd: fleetScaleSd(fleet) + CLASS_LOG_SCALE_SD * (events >= OWN_SCALE_EVENTS ? 2 : 1),
    };
    models[name] = modelOf(own, classPrior, fleet.best);
  }
  return models;
}

/** What the fleet's own scale leaves uncertain: sd of the log over its grid. */
function fleetScaleSd({ scale, weight }: LifeModel): number {
  const mean = scale.reduce((sum, value, k) => sum + weight[k]! * Math.log(value), 0);
  return Math.sqrt(scale.reduce((sum, value, k) => sum + weight[k]! * (Math.log(value) - mean) ** 2, 0));
}

/** Halvings of the prior's width: at the last a hundred failures of one age hardly move the shape. */
const MOST_HALVINGS = 6;

/**
 * Many failures at one and the same age (a whole batch written off on one day) make the likelihood run off to an
 * endless shape. The prior of the shape is narrowed until there is a maximum.
 */
function heldFit(rows: Lives, prior: Required<WeibullPrior>): { fit: WeibullFit; held: Required<WeibullPrior> } {
  const held = { ...prior };
  let fit = fitWeibull(rows, { prior: held });
  for (let turn = 0; turn < MOST_HALVINGS && !fit.converged; turn++) {
    held.logShapeSd /= 2;
    fit = fitWeibull(rows, { prior: held });
  }
  return { fit, held };
}

function modelOf(lives: readonly ClassedLife[], prior: Required<WeibullPrior>, met: Weibull): LifeModel {
  const rows = likelihoodRows(lives, met);
  const { fit, held } = heldFit(rows, prior);
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

/** Rows of the likelihood: one a life; seven weighted ones where the age when met is unknown. */
function likelihoodRows(lives: readonly ClassedLife[], met: Weibull): Lives {
  const [entry, exit, event, weight]: number[][] = [[], [], [], []];
  const add = (from: number, to: number, failed: boolean, share: number) => {
    if (!(to > from)) return;
    entry!.push(Math.max(0, from));
    exit!.push(to);
    event!.push(failed ? 1 : 0);
    weight!.push(share);
  };
  for (const life of lives) {
    const failed = life.end === 'failure';
    const [from, to] = [dayNumber(life.watchedFromOn), dayNumber(life.watchedToOn)];
    // A part that fails on the day it is first watched still lived for some hours.
    const watched = Math.max(to - from, failed ? 0.5 : 0);
    if (life.fittedOn !== null) {
      const age = from - dayNumber(life.fittedOn);
      add(age, age + watched, failed, 1);
      continue;
    }
    const unitAge = life.unitInServiceOn === null ? Infinity : from - dayNumber(life.unitInServiceOn);
    const ages = agesWhenMet(met, unitAge);
    ages.age.forEach((age, k) => add(age, age + watched, failed, ages.weight[k]!));
  }
  return {
    entry: Float64Array.from(entry!),
    exit: Float64Array.from(exit!),
    event: Uint8Array.from(event!),
    weight: Float64Array.from(weight!),
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
