/**
 * One number for a component's condition: the mean of its indicators' distances from the class's usual level, in the
 * class's own spread, signed so that wear goes up. 0 is an ordinary unit of the class; 3 stands far out.
 *
 * For: a path that a drift model can follow, whatever a fleet's loggers record. Weekly medians per indicator, corrected
 * for season and charge; each indicator enters where it exists. Three-weekly medians of the sum are handed to the drift
 * model, since noise from week to week would pass for diffusion.
 */
import type { Unit } from '../model/unit.ts';
import type { ForecastComponent, Indicator } from '../model/words.ts';
import { median, medianAbsoluteDeviation, NORMAL_SD_PER_MAD } from '../stats/quantile.ts';
import { INDEX_DAYS, type IndicatorSummary } from '../trends/indicator-summary.ts';
import type { NewestWeeks } from '../trends/newest-weeks.ts';
import type { Weekly } from '../trends/weekly-medians.ts';
import type { NewestPoint } from './path-on-day.ts';

/** Direction in which wear moves an indicator, and how much it counts. Weights: convention of this program. */
export const WEAR: Record<ForecastComponent, Partial<Record<Indicator, { sign: 1 | -1; weight: number }>>> = {
  battery: {
    log_sag_ratio: { sign: 1, weight: 1.5 },
    crank_volts: { sign: -1, weight: 1.5 },
    rest_volts: { sign: -1, weight: 0.5 },
    battery_ohms: { sign: 1, weight: 1.5 },
  },
  starter: {
    crank_rpm: { sign: -1, weight: 1.5 },
    crank_seconds: { sign: 1, weight: 0.5 },
    dropouts_per_100: { sign: 1, weight: 1 },
    retries_per_100: { sign: 1, weight: 1.5 },
    loop_ohms: { sign: 1, weight: 1.5 },
    log_sag_ratio: { sign: -1, weight: 0.5 },
  },
};

/** `ofClass`: of the class itself; else, where it is small, of all units on the same system voltage. */
export type Usual = { level: number; spread: number; ofClass: boolean };
/** By class, then indicator. */
export type UsualLevels = Record<string, Record<string, Usual>>;

export type EngineSeries = {
  unit: Pick<Unit, 'systemVolts'>;
  class: string;
  series: Partial<Record<Indicator, IndicatorSummary>>;
};

/** A single indicator counts at most so far: one absurd sensor must not decide alone. */
const MOST_DISTANCE = 6;
/** Most engines never drop out or retry, so that the spread of these counts is 0. One odd start in fifty is ordinary (from memory). */
const LEAST_SPREAD: Partial<Record<Indicator, number>> = { dropouts_per_100: 2, retries_per_100: 2 };
const LEAST_ENGINES = 4;
/** A part's own first months count this far as what is ordinary for it, the class for the rest: units differ by themselves. */
const OWN_SHARE = 0.4; // best of 0, 0.4 and 0.7 on an invented fleet of 300 units, for both components
const FIRST_POINTS = 5;

/**
 * Level and spread of each indicator over the engines of a class. Where they are too few, of all engines on the system
 * voltage that most of the class have: 12 V beside 24 V would pass for a flat battery.
 */
export function usualLevels(engines: readonly EngineSeries[]): UsualLevels {
  const classes = [...new Set(engines.map((engine) => engine.class))].sort();
  const onVolts = new Map(
    ([12, 24] as const).map((volts) => [
      volts,
      usualOf(
        engines.filter(({ unit }) => unit.systemVolts === volts),
        false,
      ),
    ]),
  );
  return Object.fromEntries(
    classes.map((name) => {
      const own = engines.filter((engine) => engine.class === name);
      const of24 = own.filter(({ unit }) => unit.systemVolts === 24).length;
      return [name, { ...onVolts.get(2 * of24 > own.length ? 24 : 12), ...usualOf(own, true) }];
    }),
  );
}

function usualOf(engines: readonly EngineSeries[], ofClass: boolean): Record<string, Usual> {
  const usual: Record<string, Usual> = {};
  const indicators = new Set(engines.flatMap(({ series }) => Object.keys(series) as Indicator[]));
  for (const indicator of indicators) {
    const medians: number[] = [];
    const noises: number[] = [];
    for (const { series } of engines) {
      const own = series[indicator]?.usual;
      if (own === undefined || own === null) continue;
      medians.push(own.level);
      noises.push(own.noise);
    }
    if (medians.length < LEAST_ENGINES) continue;
    const between = NORMAL_SD_PER_MAD * medianAbsoluteDeviation(Float64Array.from(medians));
    const within = median(Float64Array.from(noises));
    const spread = Math.max(Math.hypot(between, within), LEAST_SPREAD[indicator] ?? 0);
    if (spread > 0) usual[indicator] = { level: median(Float64Array.from(medians)), spread, ofClass };
  }
  return usual;
}

function since({ day, value }: Weekly, fromDay: number): Weekly {
  const from = day.findIndex((each) => each >= fromDay);
  return from < 0
    ? { day: day.subarray(0, 0), value: value.subarray(0, 0) }
    : { day: day.subarray(from), value: value.subarray(from) };
}

type Place = { sign: 1 | -1; ordinary: number; usual: Usual };

function distanceOf(value: number, { sign, ordinary, usual }: Place): number {
  return Math.max(-MOST_DISTANCE, Math.min(MOST_DISTANCE, (sign * (value - ordinary)) / usual.spread));
}

export type ConditionPath = Weekly & {
  /** How far each indicator stands from its class's usual level at the end, in spreads, wear up, and what is ordinary. */
  parts: { indicator: Indicator; distance: number; usual: Usual; ordinary: number }[];
};

/** The index of one component from a day on, three-weekly; null where no indicator has a usual level. */
export function conditionPath(
  engine: EngineSeries,
  component: ForecastComponent,
  usual: UsualLevels,
  fromDay: number,
): ConditionPath | null {
  const sums = new Map<number, { sum: number; weight: number; day: number }>();
  const parts: ConditionPath['parts'] = [];
  for (const [name, { sign, weight }] of Object.entries(WEAR[component])) {
    const indicator = name as Indicator;
    const own = engine.series[indicator];
    const level = usual[engine.class]?.[indicator];
    if (own === undefined || level === undefined) continue;
    const weeks = since(own.threeWeekly, fromDay);
    if (weeks.day.length === 0) continue;
    const first = median(weeks.value.subarray(0, Math.min(FIRST_POINTS, weeks.value.length)));
    const ordinary = level.level + OWN_SHARE * (first - level.level);
    let last = Number.NaN;
    weeks.value.forEach((value, k) => {
      const distance = distanceOf(value, { sign, ordinary, usual: level });
      last = distance;
      const slot = Math.floor(weeks.day[k]! / INDEX_DAYS);
      const standing = sums.get(slot) ?? { sum: 0, weight: 0, day: weeks.day[k]! };
      sums.set(slot, { sum: standing.sum + weight * distance, weight: standing.weight + weight, day: standing.day });
    });
    if (!Number.isNaN(last)) parts.push({ indicator, distance: last, usual: level, ordinary });
  }
  if (sums.size === 0) return null;
  const rows = [...sums.values()].sort((a, b) => a.day - b.day);
  return {
    day: Float64Array.from(rows, (row) => row.day),
    value: Float64Array.from(rows, (row) => row.sum / row.weight),
    parts: parts.sort((a, b) => b.distance - a.distance),
  };
}

/**
 * Whether a path ends in the newest three weeks, whatever day it is, in learning and in forecasting alike. A starter wears
 * over months: the two days of three weeks that have just begun would pass for wear. A bank falls within days, and those
 * few tell it. Measured on fleets of three simulators.
 */
export const ENDS_IN_NEWEST_WEEKS: Record<ForecastComponent, boolean> = { battery: false, starter: true };

/** The index over each indicator's newest three weeks; null where none was seen, or where the path does not end in them. */
export function newestPoint(
  path: ConditionPath | null,
  component: ForecastComponent,
  newestOf: (indicator: Indicator) => NewestWeeks | null,
): NewestPoint | null {
  if (path === null || !ENDS_IN_NEWEST_WEEKS[component]) return null;
  let point: NewestPoint | null = null;
  let [sum, total] = [0, 0];
  for (const { indicator, usual, ordinary } of path.parts) {
    const newest = newestOf(indicator);
    if (newest === null) continue;
    const { sign, weight } = WEAR[component][indicator]!;
    sum += weight * distanceOf(newest.value, { sign, ordinary, usual });
    total += weight;
    if (point === null || newest.lastDay > point.lastDay) point = { ...newest, value: 0 };
  }
  return point === null ? null : { ...point, value: sum / total };
}
