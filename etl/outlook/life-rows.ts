/**
 * Service lives as rows of the life model's likelihood: age when watching began, age at its end, whether it failed, and
 * the age up to which it certainly worked where nobody saw it fail.
 *
 * A part whose fitting nobody recorded stands for several: one row for each age it may have had when it was met, weighed
 * by how likely that age is (`unknown-age.ts`) and by what became of the part: one that failed was more likely an old one.
 * Both hang on the life that is being fitted: rows and fit are taken in turn until they agree (as in the EM algorithm;
 * Dempster, Laird & Rubin 1977). Ages under a life that is only believed beforehand would draw the fit towards it. Days.
 *
 * @example likelihoodRows([watchOf(lifeOfKnownAge)], life) // one row, weight 1, whatever the life
 */
import type { ServiceLife } from '../model/service-life.ts';
import { dayNumber } from '../model/time.ts';
import type { Lives } from '../stats/weibull-fit.ts';
import { weibullCumulativeHazard, type Weibull } from '../stats/weibull.ts';
import { agesMetUnder, type AgeNodes } from './unknown-age.ts';

export type ClassedLife = ServiceLife & { class: string; unitInServiceOn: string | null };

/** A part that fails on the day it is first watched still lived for some hours. */
const LEAST_DAYS = 0.5;

export function likelihoodRows(watched: readonly LifeWatch[], fitted: Weibull): Lives {
  const [entry, exit, event, failedAfter, weight]: number[][] = [[], [], [], [], []];
  const met = agesMetUnder(fitted);
  for (const watch of watched) {
    if (!(watch.days > 0)) continue;
    const { ageDays, unitAgeDays } = watch;
    const ages = ageDays === null ? agesGiven(watch, met(unitAgeDays), fitted) : ageKnown(ageDays);
    ages.age.forEach((age, k) => {
      entry!.push(age);
      exit!.push(age + watch.days);
      event!.push(Number(watch.failed));
      failedAfter!.push(age + watch.workedDays);
      weight!.push(ages.weight[k]!);
    });
  }
  return {
    entry: Float64Array.from(entry!),
    exit: Float64Array.from(exit!),
    event: Uint8Array.from(event!),
    failedAfter: Float64Array.from(failedAfter!),
    weight: Float64Array.from(weight!),
  };
}

/** A life in days: its age when watching began, how long it was watched, up to when it certainly worked. */
export type LifeWatch = {
  /** Null where nobody recorded its fitting. */
  ageDays: number | null;
  /** Age of the unit when watching began; Infinity where not known. */
  unitAgeDays: number;
  days: number;
  workedDays: number;
  failed: boolean;
};

export function watchOf(life: ClassedLife): LifeWatch {
  const { fittedOn, unitInServiceOn, watchedFromOn, watchedToOn, failedAfterOn, end } = life;
  const failed = end === 'failure';
  const from = dayNumber(watchedFromOn);
  const days = Math.max(dayNumber(watchedToOn) - from, failed ? LEAST_DAYS : 0);
  const workedDays = failed && failedAfterOn !== undefined ? Math.min(days, dayNumber(failedAfterOn) - from) : days;
  return {
    ageDays: fittedOn === null ? null : Math.max(0, from - dayNumber(fittedOn)),
    unitAgeDays: unitInServiceOn === null ? Infinity : from - dayNumber(unitInServiceOn),
    days,
    workedDays: Math.max(0, workedDays),
    failed,
  };
}

function ageKnown(days: number): AgeNodes {
  return { age: Float64Array.of(days), weight: Float64Array.of(1) };
}

/** The ages weighed by what became of the part. */
function agesGiven({ days, workedDays, failed }: LifeWatch, { age, weight }: AgeNodes, life: Weibull): AgeNodes {
  const raw = age.map((from, k) => {
    const gathered = (to: number) => weibullCumulativeHazard(from + to, life) - weibullCumulativeHazard(from, life);
    const [worked, end] = [gathered(workedDays), gathered(days)];
    if (!failed) return weight[k]! * Math.exp(-end);
    if (workedDays < days) return weight[k]! * (Math.exp(-worked) - Math.exp(-end));
    return weight[k]! * (from + days) ** (life.shape - 1) * Math.exp(-end);
  });
  const sum = raw.reduce((total, value) => total + value, 0);
  return sum > 0 ? { age, weight: raw.map((value) => value / sum) } : { age, weight };
}
