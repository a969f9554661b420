/**
 * How a component's condition index drifts, and how far it may go: random-drift Wiener over all paths of the fleet, what
 * they leave uncertain of it integrated out, and the level at which parts failed, as a distribution.
 *
 * The limit is learnt from the last levels of parts that failed after a warning, shrunk to a stated prior while there
 * are few. A failed part whose index stood no higher than its healthy neighbours' failed suddenly: their share is the
 * share of failures that no condition foretells.
 */
import type { ForecastComponent } from '../model/words.ts';
import { driftPopulation, ownDrift, type WeightedDrift } from '../stats/drift-population.ts';
import { meanRandomDriftSurvival, type RandomDrift } from '../stats/first-passage.ts';
import { median, quantile } from '../stats/quantile.ts';
import { normalQuantile } from '../stats/normal.ts';
import { SURVIVAL_DAYS } from '../model/outlook.ts';
import type { Weekly } from '../trends/weekly-medians.ts';

export type WearModel = {
  /** Drift, its spread and noise of the fleet's paths, with what the paths leave uncertain of them. */
  population: WeightedDrift[];
  limitMean: number;
  limitSd: number;
  /** Share of failures without warning. */
  suddenShare: number;
  /** Failed parts whose last level is known. */
  failures: number;
  paths: number;
};
export type WearModels = Partial<Record<ForecastComponent, WearModel>>;

/** Limit before any failure was seen: three spreads out of the class (convention of this program). */
const PRIOR_LIMIT = { mean: 3, sd: 1.2, strength: 4 };
/** A fifth of failures with no warning is common (from memory): taken as two in eight until the fleet's own say so. */
const PRIOR_SUDDEN = { share: 0.25, strength: 8 };
const LEAST_PATHS = 5;
const LEAST_POINTS = 4;

/** Time in days from the start of the path, value from 0: what `driftPopulation` takes. */
function asPath({ day, value }: Weekly): { time: Float64Array; value: Float64Array } {
  const [firstDay, first] = [day[0]!, value[0]!];
  return { time: day.map((each) => each - firstDay), value: value.map((each) => each - first) };
}

export type PathOfLife = { path: Weekly; failed: boolean };

export function fitWearModel(lives: readonly PathOfLife[]): WearModel | null {
  const long = lives.filter(({ path }) => path.day.length >= LEAST_POINTS);
  if (long.length < LEAST_PATHS) return null;
  const population = driftPopulation(long.map(({ path }) => asPath(path)));
  const healthy = long.filter(({ failed }) => !failed).map(({ path }) => lastLevel(path));
  const atFailure = lives
    .filter(({ failed, path }) => failed && path.day.length >= 2)
    .map(({ path }) => lastLevel(path));
  const warned = healthy.length > 0 ? quantile(Float64Array.from(healthy), 0.75) : 0;
  const seen = atFailure.filter((level) => level > warned);
  const model = {
    population: population.map((node) => ({ ...node, diffusion: Math.max(node.diffusion, 1e-6) })),
    ...limitOf(seen),
    ...suddenOf(seen.length, atFailure.length),
    paths: long.length,
  };
  return { ...model, ...honestLimit(long, model) };
}

/** Steps in which the model is held against what happened: nine weeks, three points of a path. */
const STEP_POINTS = 3;
const STEP_DAYS = 63;
/** Steps without failure that are looked at, evenly chosen: enough to know the level, whatever the fleet's size. */
const MOST_QUIET_STEPS = 1_500;
/** Failures that are expected of a fleet that has seen none yet. Convention of this program. */
const LEAST_EXPECTED = 0.5;
/** How sharp the limit may be, as multiples of what the last levels say. */
const SHARPNESS = [0.4, 0.6, 0.8, 1, 1.3];

/**
 * Where the limit has to lie, and how sharp it is: looking back over every path in steps of nine weeks, the model must
 * expect as many failures by wear as there were, and of the limits that do, the one is taken under which what happened
 * was likeliest. So the level of the probabilities is honest for this fleet.
 */
function honestLimit(lives: readonly PathOfLife[], model: WearModel): { limitMean: number; limitSd: number } {
  const failures = lives.filter(({ failed }) => failed).length;
  const target = Math.max(LEAST_EXPECTED, failures * (1 - model.suddenShare));
  const steps = stepsOf(lives, model);
  const fits = SHARPNESS.map((sharpness) => {
    const limitSd = model.limitSd * sharpness;
    const limitMean = meanFor(target, steps, { ...model, limitSd });
    return { limitMean, limitSd, likelihood: likelihood(steps, { ...model, limitMean, limitSd }) };
  });
  const best = fits.reduce((a, b) => (b.likelihood > a.likelihood ? b : a));
  return { limitMean: best.limitMean, limitSd: best.limitSd };
}

type Step = { level: number; own: RandomDrift; days: number; failed: boolean; weight: number };

/** Those that end in failure, then the others that are looked at: only what is looked at is made. */
function stepsOf(lives: readonly PathOfLife[], model: WearModel): Step[] {
  const [failing, quiet]: [Step[], Step[]] = [[], []];
  const stride = Math.max(1, Math.ceil(quietSteps(lives) / MOST_QUIET_STEPS));
  let at = 0;
  for (const life of lives)
    for (let k = 2; k < life.path.day.length; k += STEP_POINTS) {
      if (endsInFailure(life, k)) failing.push(stepAt(life, k, model));
      else if (at++ % stride === 0) quiet.push({ ...stepAt(life, k, model), weight: stride });
    }
  return [...failing, ...quiet];
}

function quietSteps(lives: readonly PathOfLife[]): number {
  let count = 0;
  for (const { path, failed } of lives) count += Math.ceil((path.day.length - 2) / STEP_POINTS) - Number(failed);
  return count;
}

function endsInFailure({ path, failed }: PathOfLife, k: number): boolean {
  return failed && k + STEP_POINTS >= path.day.length;
}

function stepAt(life: PathOfLife, k: number, model: WearModel): Step {
  const { day, value } = life.path;
  const so = { day: day.subarray(0, k + 1), value: value.subarray(0, k + 1) };
  const left = day.at(-1)! - day[k]! + STEP_DAYS / STEP_POINTS;
  const failed = endsInFailure(life, k);
  // A step that was watched to its end only in part says less; one that ends in failure was asked of as a whole.
  const days = failed ? STEP_DAYS : Math.min(STEP_DAYS, left);
  return { level: lastLevel(so), own: recentDrift(so, model), days, failed, weight: 1 };
}

function stepFailure({ level, own, days }: Step, model: WearModel): number {
  return 1 - meanRandomDriftSurvival(days, own, limitNodes(model, level));
}

/** The mean of the limit under which the steps expect so many failures, by bisection: the further, the fewer. */
function meanFor(target: number, steps: readonly Step[], model: WearModel): number {
  let [low, high] = [-2, 15];
  for (let round = 0; round < 20; round++) {
    const limitMean = (low + high) / 2;
    const expected = steps.reduce((sum, step) => sum + step.weight * stepFailure(step, { ...model, limitMean }), 0);
    if (expected > target) low = limitMean;
    else high = limitMean;
  }
  return (low + high) / 2;
}

function likelihood(steps: readonly Step[], model: WearModel): number {
  return steps.reduce((sum, step) => {
    const p = Math.min(0.999, Math.max(1e-6, stepFailure(step, model)));
    // Some fail without warning: those say nothing of the limit, so that a failure has a floor.
    const failure = model.suddenShare * 0.01 + (1 - model.suddenShare) * p;
    return sum + step.weight * Math.log(step.failed ? failure : 1 - p);
  }, 0);
}

function limitOf(levels: readonly number[]): { limitMean: number; limitSd: number } {
  const { mean, sd, strength } = PRIOR_LIMIT;
  const n = levels.length;
  const own = n > 0 ? median(Float64Array.from(levels)) : mean;
  const spread = n > 1 ? levels.reduce((sum, level) => sum + (level - own) ** 2, 0) / n : sd * sd;
  const total = n + strength;
  return {
    limitMean: (n * own + strength * mean) / total,
    limitSd: Math.sqrt((n * spread + strength * sd * sd) / total),
  };
}

function suddenOf(warned: number, failures: number): { suddenShare: number; failures: number } {
  const { share, strength } = PRIOR_SUDDEN;
  return { suddenShare: (failures - warned + share * strength) / (failures + strength), failures };
}

/** Level now: the mean of the last two three-week medians. */
export function lastLevel({ value }: Weekly): number {
  const last = value.length - 1;
  return last === 0 ? value[0]! : (value[last]! + value[last - 1]!) / 2;
}

const LIMIT_NODES = [0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95];
const LIMIT_Z = LIMIT_NODES.map(normalQuantile);
/** A level that has passed a possible limit is this near to failing, not past it: it still works. */
const LEAST_DISTANCE = 0.25;

/** Distances still to go to each of the places where the limit may lie. */
function limitNodes({ limitMean, limitSd }: WearModel, level: number): number[] {
  return LIMIT_NODES.map((_, k) => Math.max(LEAST_DISTANCE, limitMean + limitSd * LIMIT_Z[k]! - level));
}

/** The drift that goes on is that of the last months: wear is slow for most of a life and fast at its end. */
const RECENT_DAYS = 240;

/** What a path's own drift is taken to be, from the fleet's drift and its last months. */
function recentDrift({ day, value }: Weekly, { population }: Pick<WearModel, 'population'>): RandomDrift {
  const last = day.length - 1;
  const recent = day.findIndex((each) => each >= day[last]! - RECENT_DAYS);
  return ownDrift(value[last]! - value[recent]!, day[last]! - day[recent]!, population);
}

/** Probability that a path that stands where it stands fails by wear within so many days. */
export function wearFailure(path: Weekly, model: WearModel, days: number): number {
  return 1 - meanRandomDriftSurvival(days, recentDrift(path, model), limitNodes(model, lastLevel(path)));
}

/**
 * S(t) at SURVIVAL_DAYS for a path that stands where it stands: the own drift by Bayes from the path so far, first
 * passage averaged over where the limit may lie.
 */
export function wearSurvival(path: Weekly, model: WearModel): Float64Array {
  const own = recentDrift(path, model);
  const distances = limitNodes(model, lastLevel(path));
  return Float64Array.from(SURVIVAL_DAYS, (t) => meanRandomDriftSurvival(t, own, distances));
}
