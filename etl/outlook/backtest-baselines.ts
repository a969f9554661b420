/**
 * What anyone could do without this program, at the same origin and from the same data: the forecast has to beat it.
 *
 * - base rate: of the parts that were in service on earlier days, the share that had failed so many days later
 *   (Kaplan–Meier over landmarks a month apart), the same for every part;
 * - age only: the program's own life model by class, nothing else known of the unit;
 * - fixed voltage threshold: cranking voltage under 9.6 V at 12 V (TM 10-3930-671-24 F-299), the double at 24 V;
 * - last value: the latest cranking voltage (battery) or speed (starter) against the median of the class.
 */
import type { ServiceLife } from '../model/service-life.ts';
import { dayNumber } from '../model/time.ts';
import type { ForecastComponent } from '../model/words.ts';
import { kaplanMeier } from '../stats/kaplan-meier.ts';
import { median } from '../stats/quantile.ts';
import type { DailyMedians } from '../trends/daily-medians.ts';
import type { LifeModel } from './life-model.ts';
import { lifeSurvival } from './life-survival.ts';
import { agesOfLife } from './unknown-age.ts';

/** Landmarks a month apart, two years back at most: older days say less of the fleet as it is. Convention of this program. */
const LANDMARK_STEP_DAYS = 30;
const MOST_LANDMARKS = 24;

/** Share of the parts in service that fails within the horizon, from what was known by the origin. */
export function baseRate(lives: readonly ServiceLife[], originDay: number, horizonDays: number): number {
  const [exit, event]: [number[], number[]] = [[], []];
  for (let back = 1; back <= MOST_LANDMARKS; back++) {
    const landmark = originDay - back * LANDMARK_STEP_DAYS;
    for (const { watchedFromOn, watchedToOn, end } of lives) {
      const to = dayNumber(watchedToOn);
      if (dayNumber(watchedFromOn) > landmark || to <= landmark) continue;
      exit.push(to - landmark);
      event.push(Number(end === 'failure'));
    }
  }
  if (exit.length === 0) return 0;
  const curve = kaplanMeier({
    entry: new Float64Array(exit.length),
    exit: Float64Array.from(exit),
    event: Uint8Array.from(event),
  });
  // Where no landmark lies a whole horizon back, what was seen is carried on at its own rate.
  const reach = Math.min(
    horizonDays,
    exit.reduce((longest, days) => Math.max(longest, days)),
  );
  const last = curve.time.findLastIndex((days) => days <= reach);
  return last < 0 ? 0 : 1 - curve.survival[last]! ** (horizonDays / reach);
}

/** Survival by age alone at SURVIVAL_DAYS, as the life model of the class has it. */
export function ageSurvival(
  life: ServiceLife,
  model: LifeModel,
  { originDay, unitInServiceOn }: { originDay: number; unitInServiceOn: string | null },
): Float64Array {
  return lifeSurvival(model, agesOfLife({ ...life, unitInServiceOn }, originDay, model.best));
}

/** Volts at 12 V under which a handbook sends the reader to the battery (TM 10-3930-671-24 F-299). */
const THRESHOLD_VOLTS = 9.6;
/** A single day is an odd start or a cold one: the median of the last so many days with cranks. Convention of this program. */
const LAST_DAYS = 10;

/** The latest readings of one engine; NaN where there is none. */
export type Readings = { crankVoltsAt12: number; crankRpm: number };

export function latestReadings(daily: DailyMedians | null, systemVolts: 12 | 24): Readings {
  const last = (column: Float32Array | undefined) => {
    const present = (column ?? new Float32Array(0)).filter((value) => !Number.isNaN(value)).slice(-LAST_DAYS);
    return present.length === 0 ? Number.NaN : median(present);
  };
  if (daily === null) return { crankVoltsAt12: Number.NaN, crankRpm: Number.NaN };
  return {
    crankVoltsAt12: (12 / systemVolts) * last(daily.values.crank_volts),
    crankRpm: last(daily.values.crank_rpm),
  };
}

export function belowThreshold({ crankVoltsAt12 }: Readings): boolean {
  return crankVoltsAt12 < THRESHOLD_VOLTS;
}

/** How far the last value lies under the median of its class: a share of it, higher is worse; null where not known. */
export function lastValue(component: ForecastComponent, own: Readings, ofClass: readonly Readings[]): number | null {
  const of = (readings: Readings) => (component === 'battery' ? readings.crankVoltsAt12 : readings.crankRpm);
  const known = ofClass.map(of).filter((value) => !Number.isNaN(value));
  return Number.isNaN(of(own)) || known.length === 0 ? null : 1 - of(own) / median(known);
}
