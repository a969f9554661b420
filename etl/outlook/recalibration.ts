/**
 * What the fleet's own past says of its forecasts: too dark or too bright, too sure or too timid, and at what season.
 *
 * Every life is walked through in steps of nine weeks. At the beginning of each the forecast is made from what the
 * path showed by then, and held against what happened in the step: the hazard that would have been right is
 * λ·e^(level + steepness·(log H + 4) + sine·sin(season) + cosine·cos(season)), H being what the forecast expected of the
 * step. All four are drawn to 0, the forecast as it is, so that few failures move it little. The factor is never negative
 * and works on the hazard, so a corrected curve never rises.
 *
 * Cold makes failures show, heat makes batteries age: which of it rules, the fleet's failures say.
 */
import { SURVIVAL_DAYS } from '../model/outlook.ts';
import { dayNumber } from '../model/time.ts';
import { poissonRidge } from '../stats/poisson-ridge.ts';
import { weibullCumulativeHazard } from '../stats/weibull.ts';
import type { Weekly } from '../trends/weekly-medians.ts';
import { combinedAt } from './combine.ts';
import { conditionTrust, LEAST_POINTS } from './condition-trust.ts';
import type { ClassedLife, LifeModel } from './life-model.ts';
import { agesOfLife } from './unknown-age.ts';
import { wearFailure, type WearModel } from './wear-model.ts';

export type Recalibration = { level: number; steepness: number; sine: number; cosine: number };
export const AS_IT_IS: Recalibration = { level: 0, steepness: 0, sine: 0, cosine: 0 };

/** A life with the condition path that was seen of it, up to its end; null where no logger showed any. */
export type WatchedLife = { life: ClassedLife; path: Weekly | null };
export type FittedModels = { lives: Record<string, LifeModel>; wear: WearModel | null };

const STEP_DAYS = 63;
/** About log of the hazard of nine ordinary weeks, one in fifty: there a steeper line changes nothing. */
const USUAL_LOG_HAZARD = -4;
/** How far a fleet may be from the forecast as it is (sd): convention of this program. */
const RIDGE_SD = [0.5, 0.3, 0.5, 0.5];
/** Steps without failure that are looked at, evenly chosen, so that a large fleet takes no longer. */
const MOST_QUIET_STEPS = 4_000;
/** A path whose last point is older says nothing of now: a month of silence after three weeks of a point. */
const FRESH_DAYS = 51;
const LEAST_HAZARD = 1e-6;

type Step = WatchedLife & { day: number; days: number; failed: boolean; weight: number };

export function fitRecalibration(lives: readonly WatchedLife[], models: FittedModels): Recalibration {
  const steps = thinned(lives.flatMap(stepsOf));
  // That nothing failed yet, the life model already knows: said twice it would count twice.
  if (!steps.some(({ failed }) => failed)) return AS_IT_IS;
  const [offset, events, weight, ones, line, sine, cosine] = Array.from(
    { length: 7 },
    () => new Float64Array(steps.length),
  ) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
  steps.forEach((step, row) => {
    const logHazard = Math.log(Math.max(LEAST_HAZARD, expectedOf(step, models)));
    const turn = seasonAt(step.day + STEP_DAYS / 2);
    offset[row] = logHazard + Math.log(step.days / STEP_DAYS);
    events[row] = Number(step.failed);
    weight[row] = step.weight;
    ones[row] = 1;
    line[row] = logHazard - USUAL_LOG_HAZARD;
    sine[row] = Math.sin(turn);
    cosine[row] = Math.cos(turn);
  });
  const found = poissonRidge({ columns: [ones, line, sine, cosine], offset, events, weight }, RIDGE_SD);
  return { level: found[0]!, steepness: found[1]!, sine: found[2]!, cosine: found[3]! };
}

/** The curve with the hazard of every piece times what the past says of it. */
export function recalibrated(survival: Float64Array, by: Recalibration, asOfDay: number): Float64Array {
  const step = SURVIVAL_DAYS.indexOf(STEP_DAYS);
  const logHazard = Math.log(Math.max(LEAST_HAZARD, -Math.log(Math.max(survival[step]!, 1e-300))));
  const always = by.level + by.steepness * (logHazard - USUAL_LOG_HAZARD);
  const corrected = new Float64Array(survival.length);
  let sum = 0;
  corrected[0] = survival[0]!;
  for (let k = 1; k < survival.length; k++) {
    const piece = Math.log(Math.max(survival[k - 1]!, 1e-300)) - Math.log(Math.max(survival[k]!, 1e-300));
    const turn = seasonAt(asOfDay + (SURVIVAL_DAYS[k - 1]! + SURVIVAL_DAYS[k]!) / 2);
    sum += piece * Math.exp(always + by.sine * Math.sin(turn) + by.cosine * Math.cos(turn));
    corrected[k] = survival[0]! * Math.exp(-sum);
  }
  return corrected;
}

const YEAR_DAYS = 365.25;

function seasonAt(day: number): number {
  return (2 * Math.PI * day) / YEAR_DAYS;
}

/** Steps begin nine weeks after watching did: before, no path says anything. */
function stepsOf(watched: WatchedLife): Step[] {
  const { life } = watched;
  const [from, to] = [dayNumber(life.watchedFromOn), dayNumber(life.watchedToOn)];
  const steps: Step[] = [];
  for (let day = from + STEP_DAYS; day < to; day += STEP_DAYS) {
    const days = Math.min(STEP_DAYS, to - day);
    steps.push({ ...watched, day, days, failed: life.end === 'failure' && day + STEP_DAYS >= to, weight: 1 });
  }
  return steps;
}

function thinned(steps: readonly Step[]): Step[] {
  const quiet = steps.filter(({ failed }) => !failed);
  const stride = Math.max(1, Math.ceil(quiet.length / MOST_QUIET_STEPS));
  const chosen = quiet.filter((_, index) => index % stride === 0);
  const weight = chosen.length === 0 ? 1 : quiet.length / chosen.length;
  return [...steps.filter(({ failed }) => failed), ...chosen.map((step) => ({ ...step, weight }))];
}

/** Cumulative hazard of the nine weeks from the step's day on, as forecast from what was seen by then. */
function expectedOf({ life, path, day }: Step, { lives, wear }: FittedModels): number {
  const { best } = lives[life.class] ?? lives['']!;
  const { age, weight } = agesOfLife(life, day, best);
  const alive = age.reduce((sum, days, k) => {
    const hazard = weibullCumulativeHazard(days + STEP_DAYS, best) - weibullCumulativeHazard(days, best);
    return sum + weight[k]! * Math.exp(-hazard);
  }, 0);
  const aged = -Math.log(alive);
  const seen = path === null ? null : upTo(path, day);
  if (wear === null || seen === null) return aged;
  const by = { suddenShare: wear.suddenShare, trust: conditionTrust(seen.day.length) };
  return -Math.log(combinedAt(aged, 1 - wearFailure(seen, wear, STEP_DAYS), by));
}

function upTo({ day, value }: Weekly, last: number): Weekly | null {
  let count = 0;
  while (count < day.length && day[count]! <= last) count++;
  if (count < LEAST_POINTS || last - day[count - 1]! > FRESH_DAYS) return null;
  return { day: day.subarray(0, count), value: value.subarray(0, count) };
}
