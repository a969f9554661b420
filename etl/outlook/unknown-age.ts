import { dayNumber } from '../model/time.ts';
import type { ServiceLife } from '../model/service-life.ts';
import { weibullMean, weibullQuantile, weibullSurvival, type Weibull } from '../stats/weibull.ts';

/** Possible ages with their weights (sum 1). */
export type AgeNodes = { age: Float64Array; weight: Float64Array };

const NODES = 6;
/** A part that was met in service is at least so old on average: 0 would call it new. */
const LEAST_AGE = 15;
/** A first part that hardly any unit still has is left out. */
const LEAST_SHARE = 0.005;

/**
 * How old a part may have been when it was first watched, where no record says. A unit of age A still has its first part
 * with probability S(A): then the part is as old as the unit. Else it was renewed, and has age a with density m(A − a)·S(a),
 * m being how often parts are renewed when the unit has that age: once a mean life (equilibrium, Cox 1962), in a young
 * unit no oftener than first parts fail. Nodes stand at equal steps up to the 97 % point, and at the unit's own age. Days.
 *
 * @example agesWhenMet({ shape: 1, scale: 1000 }, Infinity) // exponential: the mean age is 1000 but for the cut
 */
export function agesWhenMet(life: Weibull, unitAgeDays: number): AgeNodes {
  return agesMetUnder(life)(unitAgeDays);
}

/** The same for many units, with what hangs on the life alone computed once. */
export function agesMetUnder(life: Weibull): (unitAgeDays: number) => AgeNodes {
  const mean = weibullMean(life);
  const oldest = Math.min(weibullQuantile(0.97, life), 2.5 * mean);
  return (unitAgeDays) => {
    const longest = Math.max(2 * LEAST_AGE, Math.min(unitAgeDays, oldest));
    const width = (longest - LEAST_AGE) / NODES;
    const nodes = Array.from({ length: NODES }, (_, k) => {
      const age = LEAST_AGE + (k + 0.5) * width;
      const renewed = Math.min(1 / mean, hazard(Math.max(0, unitAgeDays - age), life));
      return { age, weight: width * renewed * weibullSurvival(age, life) };
    });
    const first = unitAgeDays > longest ? 0 : weibullSurvival(longest, life);
    if (first > LEAST_SHARE) nodes.push({ age: longest, weight: first });
    const sum = nodes.reduce((total, { weight }) => total + weight, 0);
    return {
      age: Float64Array.from(nodes, ({ age }) => age),
      weight: Float64Array.from(nodes, ({ weight }) => weight / sum),
    };
  };
}

function hazard(age: number, { shape, scale }: Weibull): number {
  return age === Infinity ? Infinity : (shape / scale) * (age / scale) ** (shape - 1);
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
