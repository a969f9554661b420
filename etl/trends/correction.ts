/**
 * Season and charge taken out of an indicator: how much a class's indicators move with the temperature (and, where it
 * matters, with another reading of the same day), fitted robustly with slopes pooled over the class's engines.
 *
 * For: a cold month must not pass for wear, nor wear for the cold. From each life's values, temperatures and covariate a
 * straight line in time is taken out first, so that neither its level nor its ageing bends the slopes (the same slopes as
 * fitting all levels and drifts jointly: Frisch & Waugh 1933). Huber regression on temperature, its square, and the
 * covariate; a column that does not vary (a logger that writes one temperature for ever) is left out. Valid for classes
 * with some hundred days; smaller ones take the fleet's. Reference temperature 15 °C.
 * Where no temperature was logged the fleet's median of the day stands in; without any the value stays uncorrected.
 */
import { huberRegression } from '../stats/robust-regression.ts';
import { median } from '../stats/quantile.ts';
import { StatisticsRefusal } from '../stats/refusal.ts';
import type { Indicator } from '../model/words.ts';
import type { DailyMedians } from './daily-medians.ts';
import { indicatorSeriesOf, type IndicatorSeries } from './indicator-series.ts';
import { isMedianIndicator, MEDIAN_INDICATORS, type MedianIndicator } from './indicators.ts';
import { withoutLine } from './without-line.ts';

export const REFERENCE_C = 15;

/** Per °C, per °C² about the reference, and per unit of the covariate about the engine's own median. */
export type Correction = { perC: number; perC2: number; perCovariate: number; days: number };
/** By class, then indicator; '' is the whole fleet. */
export type Corrections = Record<string, Partial<Record<MedianIndicator, Correction>>>;

/**
 * What else moves an indicator on the day: speed follows the voltage under load, so that what is left of it is the
 * starter's own; the voltage under load follows the state of charge.
 */
const COVARIATE: Partial<Record<MedianIndicator, 'crank_volts' | 'rest'>> = {
  crank_rpm: 'crank_volts',
  crank_volts: 'rest',
};

const ROWS_PER_ENGINE = 120; // enough to see the season, few enough for thousands of engines
const LEAST_DAYS = 300; // common practice: below, a slope says more of the season's luck than of the class
const MOST_ROWS = 20_000;

export type ClassedDaily = {
  class: string;
  daily: DailyMedians;
  /** Days on which a part was exchanged, ascending: no line is drawn across them. */
  breaks?: readonly number[];
};
export type DayTemperatures = Record<string, number>;

/** The fleet's median temperature of each day: what stands in where a logger has none. */
export function dayTemperatures(engines: readonly ClassedDaily[]): DayTemperatures {
  const byDay = new Map<number, number[]>();
  for (const { daily } of engines)
    for (let row = 0; row < daily.day.length; row++) {
      const tempC = daily.tempC[row]!;
      if (Number.isNaN(tempC)) continue;
      const day = byDay.get(daily.day[row]!);
      if (day === undefined) byDay.set(daily.day[row]!, [tempC]);
      else if (day.length < 200) day.push(tempC);
    }
  return Object.fromEntries([...byDay].sort(([a], [b]) => a - b).map(([day, temps]) => [day, median(temps)]));
}

export function fitCorrections(engines: readonly ClassedDaily[], temperatures: DayTemperatures): Corrections {
  const classes = ['', ...new Set(engines.map((engine) => engine.class))].sort();
  const corrections: Corrections = Object.fromEntries(classes.map((name) => [name, {}]));
  for (const indicator of MEDIAN_INDICATORS) {
    const rowsOf = gatheredOnce(indicator, temperatures);
    for (const name of classes) {
      const own = name === '' ? engines : engines.filter((engine) => engine.class === name);
      const correction = fitOne(own, rowsOf);
      if (correction !== null) corrections[name]![indicator] = correction;
    }
  }
  return corrections;
}

type Rows = { warm: number[]; square: number[]; covariate: number[]; value: number[] };

/** An engine's rows serve its class and the whole fleet. */
function gatheredOnce(indicator: MedianIndicator, temperatures: DayTemperatures): (engine: ClassedDaily) => Rows {
  const known = new Map<ClassedDaily, Rows>();
  return (engine) => {
    let rows = known.get(engine);
    if (rows === undefined) known.set(engine, (rows = gather(engine, { indicator, temperatures })));
    return rows;
  };
}

function fitOne(engines: readonly ClassedDaily[], rowsOf: (engine: ClassedDaily) => Rows): Correction | null {
  const rows: Rows = { warm: [], square: [], covariate: [], value: [] };
  for (const engine of engines) {
    if (rows.value.length > MOST_ROWS) break;
    const own = rowsOf(engine);
    for (const name of ['warm', 'square', 'covariate', 'value'] as const) rows[name].push(...own[name]);
  }
  return rows.value.length < LEAST_DAYS ? null : solve(rows);
}

/** With all columns that vary; without the square, then by the covariate alone, where they say the same thing twice. */
function solve(rows: Rows): Correction | null {
  const columns = (['warm', 'square', 'covariate'] as const).filter((name) => varies(rows[name]));
  const value = Float64Array.from(rows.value);
  for (const left of [
    columns,
    columns.filter((name) => name !== 'square'),
    columns.filter((name) => name === 'covariate'),
  ]) {
    if (left.length === 0) continue;
    try {
      const { coefficients } = huberRegression(
        left.map((name) => Float64Array.from(rows[name])),
        value,
      );
      const of = (name: keyof Rows) => coefficients[(left as string[]).indexOf(name)] ?? 0;
      return { perC: of('warm'), perC2: of('square'), perCovariate: of('covariate'), days: value.length };
    } catch (error) {
      if (!(error instanceof StatisticsRefusal)) throw error;
    }
  }
  return null;
}

/** Rounding leaves some billionths of a column that is a straight line in time. */
function varies(column: readonly number[]): boolean {
  return column.some((value) => Math.abs(value) > 1e-6);
}

const LEAST_ROWS_OF_LIFE = 20; // common practice: a line of its own and some to spare

/** Evenly chosen days of one engine's commonest stratum, life by life. */
function gather(
  { daily, breaks = [] }: ClassedDaily,
  { indicator, temperatures }: { indicator: MedianIndicator; temperatures: DayTemperatures },
): Rows {
  const rows: Rows = { warm: [], square: [], covariate: [], value: [] };
  const series = indicatorSeriesOf(daily, indicator);
  if (series === null || series.day.length < 30) return rows;
  const context = dayContext(daily, series, { indicator, temperatures });
  const stride = Math.max(1, Math.floor(series.day.length / ROWS_PER_ENGINE));
  const lives = new Map<number, number[]>();
  for (let i = 0; i < series.day.length; i += stride) {
    const missing = Number.isNaN(context.tempC[i]!) || Number.isNaN(context.covariate[i]!);
    if (missing || series.stratum[i] !== context.commonStratum) continue;
    const life = breaks.filter((day) => day <= series.day[i]!).length;
    const own = lives.get(life);
    if (own === undefined) lives.set(life, [i]);
    else own.push(i);
  }
  for (const own of lives.values()) {
    if (own.length < LEAST_ROWS_OF_LIFE) continue;
    const day = own.map((i) => series.day[i]!);
    const warm = own.map((i) => context.tempC[i]! - REFERENCE_C);
    const columns: Rows = {
      warm,
      square: warm.map((value) => value * value),
      covariate: own.map((i) => context.covariate[i]!),
      value: own.map((i) => series.value[i]!),
    };
    for (const name of ['warm', 'square', 'covariate', 'value'] as const) {
      for (const value of withoutLine(day, columns[name])) rows[name].push(value);
    }
  }
  return rows;
}

type DayContext = { tempC: Float64Array; covariate: Float64Array; commonStratum: number };

/** Temperature and covariate of each row of a series; the covariate about its own median, 0 where there is none. */
function dayContext(
  daily: DailyMedians,
  series: IndicatorSeries,
  { indicator, temperatures }: { indicator: MedianIndicator; temperatures: DayTemperatures },
): DayContext {
  const tempC = series.tempC.slice();
  for (let i = 0; i < tempC.length; i++)
    if (Number.isNaN(tempC[i]!)) tempC[i] = temperatures[series.day[i]!] ?? Number.NaN;
  const kind = COVARIATE[indicator];
  const covariate = kind === undefined ? new Float64Array(tempC.length) : aboutMedian(covariateOf(daily, series, kind));
  return { tempC, covariate, commonStratum: commonStratum(series.stratum) };
}

/** About the median of the values that are there; 0 throughout where none is. */
function aboutMedian(raw: Float64Array): Float64Array {
  const present = raw.filter((value) => !Number.isNaN(value));
  if (present.length === 0) return new Float64Array(raw.length);
  const centre = median(present);
  return raw.map((value) => value - centre);
}

function covariateOf(daily: DailyMedians, series: IndicatorSeries, kind: 'crank_volts' | 'rest'): Float64Array {
  if (kind === 'rest') return series.restVolts;
  const volts = daily.values.crank_volts;
  if (volts === undefined) return new Float64Array(series.day.length).fill(Number.NaN);
  // Both ascend, and a day stands once: the rows are met in one walk.
  const of = new Float64Array(series.day.length);
  for (let i = 0, row = 0; i < of.length; i++) {
    while (daily.day[row]! < series.day[i]!) row++;
    of[i] = daily.day[row] === series.day[i] ? volts[row]! : Number.NaN;
  }
  return of;
}

export function commonStratum(strata: Uint8Array): number {
  const first = strata[0];
  if (first !== undefined && strata.every((each) => each === first)) return first;
  const counts = new Map<number, number>();
  for (const stratum of strata) counts.set(stratum, (counts.get(stratum) ?? 0) + 1);
  return [...counts].reduce(
    (best, next) => (next[1] > best[1] || (next[1] === best[1] && next[0] < best[0]) ? next : best),
    [0, 0],
  )[0];
}

export type CorrectedSeries = IndicatorSeries & {
  /** At the reference temperature. */
  corrected: Float64Array;
  /** A temperature was known for most days, own or the fleet's. */
  hasTemperature: boolean;
};

export type CorrectionContext = { corrections: Corrections; temperatures: DayTemperatures; class: string };

/** An engine's indicator with season and charge taken out; null where it was never recorded. */
export function correctedSeries(
  daily: DailyMedians,
  indicator: Indicator,
  context: CorrectionContext,
): CorrectedSeries | null {
  const series = indicatorSeriesOf(daily, indicator);
  if (series === null) return null;
  if (!isMedianIndicator(indicator)) return { ...series, corrected: series.value, hasTemperature: false };
  const correction = context.corrections[context.class]?.[indicator] ?? context.corrections['']?.[indicator];
  if (correction === undefined) return { ...series, corrected: series.value, hasTemperature: false };
  const { tempC, covariate } = dayContext(daily, series, { indicator, temperatures: context.temperatures });
  let known = 0;
  const corrected = series.value.map((value, i) => {
    const warm = tempC[i]! - REFERENCE_C;
    const byTemperature = Number.isNaN(warm) ? 0 : correction.perC * warm + correction.perC2 * warm * warm;
    if (!Number.isNaN(warm)) known++;
    const byCovariate = Number.isNaN(covariate[i]!) ? 0 : correction.perCovariate * covariate[i]!;
    return value - byTemperature - byCovariate;
  });
  return { ...series, corrected, hasTemperature: known > series.day.length / 2 };
}
