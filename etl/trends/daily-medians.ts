/**
 * One engine's cranks, day by day: what trends and outlooks are computed from.
 *
 * For: an odd crank must not move a trend, and a fleet's years must fit in memory: one row a day (UTC) with cranks,
 * medians in Float32 (7 digits; a sensor gives 4).
 * Only cranks that count are taken; medians only over those that turned the engine, since a solenoid that clicks has no
 * cranking voltage. `rest_volts` is the level before the day's crank that followed the longest pause of at least four
 * hours: the level after a short stop carries surface charge. Cranks of different loggers or rate bands are never mixed
 * in one median: a day belongs to the stratum that most of its cranks have.
 */
import type { FinishedTable } from '../model/crank.ts';
import { stratumOf } from '../model/logger-stratum.ts';
import { US_PER_DAY, US_PER_SECOND } from '../model/time.ts';
import { NOT_CRANKS, PATTERNS, type Pattern } from '../model/words.ts';
import { MEDIAN_INDICATORS, type MedianIndicator } from './indicators.ts';

export type DailyMedians = {
  /** Day numbers since 1970, ascending. */
  day: Int32Array;
  stratum: Uint8Array;
  cranks: Uint16Array;
  dropouts: Uint16Array;
  retries: Uint16Array;
  tempC: Float32Array;
  /** Rest level before the day's cranks, whatever the pause: the covariate of the others. */
  restAtCrank: Float32Array;
  /** NaN is missing; an indicator that was never recorded has no column. */
  values: Partial<Record<MedianIndicator, Float32Array>>;
};

/** Rested means hours since charging: at least so long since the crank before (the design of this program). */
const OVERNIGHT_US = 4 * 3600 * US_PER_SECOND;
const NO_CRANK = new Set(NOT_CRANKS.map((pattern) => PATTERNS.indexOf(pattern)));
const CHATTER = PATTERNS.indexOf('chatter');
const DID_NOT_TURN = new Set(
  (['free_spin', 'chatter', 'solenoid_only'] satisfies Pattern[]).map((pattern) => PATTERNS.indexOf(pattern)),
);

export function dailyMedians(table: FinishedTable, untilUs: number): DailyMedians {
  const { timeUs, pattern } = table.columns;
  const rows: number[] = [];
  const days: { from: number; to: number }[] = [];
  for (let i = 0; i < table.count && timeUs[i]! <= untilUs; i++) {
    if (NO_CRANK.has(pattern[i]!)) continue;
    const last = days.at(-1);
    const sameDay =
      last !== undefined && Math.floor(timeUs[i]! / US_PER_DAY) === Math.floor(timeUs[rows[last.from]!]! / US_PER_DAY);
    rows.push(i);
    if (sameDay) last.to = rows.length;
    else days.push({ from: rows.length - 1, to: rows.length });
  }
  const daily = emptyDaily(days.length);
  days.forEach(({ from, to }, at) => fillDay(daily, at, { table, rows, from, to }));
  for (const indicator of MEDIAN_INDICATORS) {
    if (daily.values[indicator]!.every(Number.isNaN)) delete daily.values[indicator];
  }
  return daily;
}

function emptyDaily(count: number): DailyMedians {
  const missing = () => new Float32Array(count).fill(Number.NaN);
  return {
    day: new Int32Array(count),
    stratum: new Uint8Array(count),
    cranks: new Uint16Array(count),
    dropouts: new Uint16Array(count),
    retries: new Uint16Array(count),
    tempC: missing(),
    restAtCrank: missing(),
    values: Object.fromEntries(MEDIAN_INDICATORS.map((indicator) => [indicator, missing()])),
  };
}

type Day = { table: FinishedTable; rows: readonly number[]; from: number; to: number };

function fillDay(daily: DailyMedians, at: number, { table, rows, from, to }: Day): void {
  const { columns } = table;
  const all = rows.slice(from, to);
  const stratum = commonStratum(all.map((row) => stratumOf(columns.source[row]!, columns.rateHz[row]!)));
  const own = all.filter((row) => stratumOf(columns.source[row]!, columns.rateHz[row]!) === stratum);
  const turned = own.filter((row) => !DID_NOT_TURN.has(columns.pattern[row]!));
  daily.day[at] = Math.floor(columns.timeUs[all[0]!]! / US_PER_DAY);
  daily.stratum[at] = stratum;
  daily.cranks[at] = own.length;
  daily.dropouts[at] = own.reduce((sum, row) => sum + dropoutsOf(columns, row), 0);
  daily.retries[at] = own.filter((row) => columns.startUs[row]! < columns.timeUs[row]!).length;
  daily.tempC[at] = presentMedian(own, columns.tempC);
  daily.restAtCrank[at] = presentMedian(turned, columns.restVolts);
  const { values } = daily;
  values.log_sag_ratio![at] = Math.log(presentMedian(turned, columns.sagRatio));
  values.rest_volts![at] = overnightRest(table, rows, from, to);
  values.crank_volts![at] = presentMedian(turned, columns.crankVolts);
  values.crank_rpm![at] = presentMedian(turned, columns.crankRpm);
  values.crank_seconds![at] = presentMedian(turned, columns.crankSeconds);
  values.battery_ohms![at] = presentMedian(turned, columns.batteryOhms);
  values.loop_ohms![at] = presentMedian(turned, columns.loopOhms);
}

/** A solenoid that rattles loses contact many times a second: that is one event, not twenty. */
function dropoutsOf({ pattern, dropouts }: FinishedTable['columns'], row: number): number {
  return pattern[row] === CHATTER ? 1 : dropouts[row]! || 0;
}

/** The most frequent; of equals the lower. */
function commonStratum(strata: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const stratum of strata) counts.set(stratum, (counts.get(stratum) ?? 0) + 1);
  return [...counts].reduce((best, next) =>
    next[1] > best[1] || (next[1] === best[1] && next[0] < best[0]) ? next : best,
  )[0];
}

/** Median of the present values; NaN for none. Days hold a handful of cranks: sorting them is the quickest. */
function presentMedian(rows: readonly number[], column: Float64Array): number {
  const present: number[] = [];
  for (const row of rows) if (!Number.isNaN(column[row]!)) present.push(column[row]!);
  if (present.length === 0) return Number.NaN;
  present.sort((a, b) => a - b);
  const middle = present.length >> 1;
  return present.length % 2 === 1 ? present[middle]! : (present[middle - 1]! + present[middle]!) / 2;
}

function overnightRest({ columns }: FinishedTable, rows: readonly number[], from: number, to: number): number {
  let longest = OVERNIGHT_US;
  let rest = Number.NaN;
  for (let at = from; at < to; at++) {
    const row = rows[at]!;
    if (Number.isNaN(columns.restVolts[row]!)) continue;
    const pause = at === 0 ? Infinity : columns.timeUs[row]! - columns.timeUs[rows[at - 1]!]!;
    if (pause < longest) continue;
    longest = pause;
    rest = columns.restVolts[row]!;
  }
  return rest;
}
