import { dayNumber } from '../model/time.ts';
import type { ServiceLife } from '../model/service-life.ts';
import { weibullMean, weibullQuantile, weibullSurvival, type Weibull } from '../stats/weibull.ts';

/** Possible ages with their weights (sum 1). */
export type AgeNodes = { age: Float64Array; weight: Float64Array };

const NODES = 7;
/** A part that was met in service is at least so old on average: 0 would call it new. */
const LEAST_AGE = 15;

/**
 * How old a part may have been when it was first watched, where no record says: in a fleet that renews its parts the
 * age met at a random moment has density S(a)/mean (equilibrium renewal distribution, Cox 1962), cut at the unit's own age.
 * Nodes stand at equal steps up to the 97 % point. Days.
 *
 * @example agesWhenMet({ shape: 1, scale: 1000 }, Infinity) // exponential: the mean age is 1000 but for the cut
 */
export function agesWhenMet(life: Weibull, unitAgeDays: number): AgeNodes {
  const longest = Math.max(2 * LEAST_AGE, Math.min(unitAgeDays, weibullQuantile(0.97, life), 2.5 * weibullMean(life)));
  const age = Float64Array.from({ length: NODES }, (_, k) => LEAST_AGE + ((k + 0.5) / NODES) * (longest - LEAST_AGE));
  const raw = age.map((days) => weibullSurvival(days, life));
  const sum = raw.reduce((total, value) => total + value, 0);
  return { age, weight: raw.map((value) => value / sum) };
}

/** The same ages after `watched` more days of survival: older nodes have become less likely. */
export function agesNow(met: AgeNodes, watchedDays: number, life: Weibull): AgeNodes {
  const raw = met.weight.map(
    (weight, k) => (weight * weibullSurvival(met.age[k]! + watchedDays, life)) / weibullSurvival(met.age[k]!, life),
  );
  const sum = raw.reduce((total, value) => total + value, 0);
  const age = met.age.map((days) => days + watchedDays);
  return sum > 0 ? { age, weight: raw.map((value) => value / sum) } : { age, weight: met.weight };
}

export type AgedLife = Pick<ServiceLife, 'fittedOn' | 'watchedFromOn'> & { unitInServiceOn: string | null };

/** How old a part is on a day that it lives to see: one age where its fitting is known, else the possible ones. */
export function agesOfLife(
  { fittedOn, watchedFromOn, unitInServiceOn }: AgedLife,
  day: number,
  life: Weibull,
): AgeNodes {
  if (fittedOn !== null)
    return { age: Float64Array.of(Math.max(0, day - dayNumber(fittedOn))), weight: Float64Array.of(1) };
  const from = dayNumber(watchedFromOn);
  const unitAge = unitInServiceOn === null ? Infinity : from - dayNumber(unitInServiceOn);
  return agesNow(agesWhenMet(life, unitAge), day - from, life);
}
