/**
 * How a component's condition index drifts, and how far it may go: random-drift Wiener over all paths of the fleet,
 * and the level at which parts failed, as a distribution.
 *
 * The limit is learnt from the last levels of parts that failed after a warning, shrunk to a stated prior while there
 * are few. A failed part whose index stood no higher than its healthy neighbours' failed suddenly: their share is the
 * share of failures that no condition foretells.
 */
import type { ForecastComponent } from '../model/words.ts';
import { fitRandomDrift } from '../stats/degradation-fit.ts';
import { logRandomDriftSurvival, posteriorDrift, type RandomDrift } from '../stats/first-passage.ts';
import { median, quantile } from '../stats/quantile.ts';
import { normalQuantile } from '../stats/normal.ts';
import { SURVIVAL_DAYS } from '../model/outlook.ts';
import type { Weekly } from '../trends/weekly-medians.ts';

export type WearModel = RandomDrift & {
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

/** Time in days from the start of the path, value from 0: what `fitRandomDrift` takes. */
function asPath({ day, value }: Weekly): { time: Float64Array; value: Float64Array } {
  const [firstDay, first] = [day[0]!, value[0]!];
  return { time: day.map((each) => each - firstDay), value: value.map((each) => each - first) };
}

export type PathOfLife = { path: Weekly; failed: boolean };

export function fitWearModel(lives: readonly PathOfLife[]): WearModel | null {
  const long = lives.filter(({ path }) => path.day.length >= LEAST_POINTS);
  if (long.length < LEAST_PATHS) return null;
  const { drift, driftSd, diffusion } = fitRandomDrift(long.map(({ path }) => asPath(path)));
  const healthy = long.filter(({ failed }) => !failed).map(({ path }) => lastLevel(path));
  const atFailure = lives
    .filter(({ failed, path }) => failed && path.day.length >= 2)
    .map(({ path }) => lastLevel(path));
  const warned = healthy.length > 0 ? quantile(Float64Array.from(healthy), 0.75) : 0;
  const seen = atFailure.filter((level) => level > warned);
  return {
    drift,
    driftSd,
    diffusion: Math.max(diffusion, 1e-6),
    ...limitOf(seen),
    ...suddenOf(seen.length, atFailure.length),
    paths: long.length,
  };
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
/** A level that has passed a possible limit is this near to failing, not past it: it still works. */
const LEAST_DISTANCE = 0.25;

/**
 * S(t) at SURVIVAL_DAYS for a path that stands where it stands: the own drift by Bayes from the path so far, first
 * passage averaged over where the limit may lie.
 */
export function wearSurvival(path: Weekly, model: WearModel): Float64Array {
  const last = path.day.length - 1;
  const recent = path.day.findIndex((day) => day >= path.day[last]! - RECENT_DAYS);
  const own = posteriorDrift(path.value[last]! - path.value[recent]!, path.day[last]! - path.day[recent]!, model);
  const level = lastLevel(path);
  const survival = new Float64Array(SURVIVAL_DAYS.length);
  for (const p of LIMIT_NODES) {
    const limit = model.limitMean + model.limitSd * normalQuantile(p);
    const passage = {
      distance: Math.max(LEAST_DISTANCE, limit - level),
      drift: own.mean,
      driftSd: own.sd,
      diffusion: model.diffusion,
    };
    SURVIVAL_DAYS.forEach((t, k) => {
      survival[k]! += Math.exp(logRandomDriftSurvival(t, passage)) / LIMIT_NODES.length;
    });
  }
  return survival;
}

/** The drift that goes on is that of the last months: wear is slow for most of a life and fast at its end. */
const RECENT_DAYS = 240;
