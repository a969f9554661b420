/**
 * One engine's cranks, day by day: what trends and outlooks are computed from.
 *
 * For: an odd crank must not move a trend, and a fleet's years must fit in memory: one row a day by the fleet's clock with cranks,
 * medians in Float32 (7 digits; a sensor gives 4).
 * Only cranks that count are taken; medians only over those that turned the engine, since a solenoid that clicks has no
 * cranking voltage. `rest_volts` is the level before the day's crank that followed the longest pause of at least four
 * hours: the level after a short stop carries surface charge. Cranks of different loggers or rate bands are never mixed
 * in one median: a day belongs to the stratum that most of its cranks have.
 */
import type { FinishedTable } from '../model/crank.ts';
import { fleetClock, type FleetClock } from '../model/fleet-clock.ts';
import { stratumOf } from '../model/logger-stratum.ts';
import { US_PER_SECOND } from '../model/time.ts';
import { NOT_CRANKS, PATTERNS, type Pattern } from '../model/words.ts';
import { FEW_VALUES, insertionSort } from '../stats/insertion-sort.ts';
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

export function dailyMedians(table: FinishedTable, untilUs: number, clock = fleetClock('UTC')): DailyMedians {
  const rows = countedRows(table, untilUs);
  const starts = dayStarts(table, rows, clock);
  const daily = emptyDaily(starts.length);
  const scratch = scratchOf(rows.length);
  for (let at = 0; at < starts.length; at++)
    fillDay(daily, at, { table, rows, from: starts[at]!, to: starts[at + 1] ?? rows.length, scratch, clock });
  for (const indicator of MEDIAN_INDICATORS) {
    if (daily.values[indicator]!.every(Number.isNaN)) delete daily.values[indicator];
  }
  return daily;
}

/** Rows of the cranks that count, up to an instant. */
function countedRows({ count, columns: { timeUs, pattern } }: FinishedTable, untilUs: number): Int32Array {
  const rows = new Int32Array(count);
  let taken = 0;
  for (let row = 0; row < count && timeUs[row]! <= untilUs; row++)
    if (!NO_CRANK.has(pattern[row]!)) rows[taken++] = row;
  return rows.subarray(0, taken);
}

/** Where in the rows each day begins. */
function dayStarts({ columns: { timeUs } }: FinishedTable, rows: Int32Array, clock: FleetClock): number[] {
  const starts: number[] = [];
  let day = Number.NaN;
  for (let at = 0; at < rows.length; at++) {
    const own = clock.dayOf(timeUs[rows[at]!]!);
    if (own !== day) starts.push(at);
    day = own;
  }
  return starts;
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

/** Used again for every day: a fleet has ten million, and each would make a dozen small arrays. */
type Scratch = { strata: Uint8Array; own: Int32Array; turned: Int32Array; present: Float64Array };

function scratchOf(most: number): Scratch {
  return {
    strata: new Uint8Array(most),
    own: new Int32Array(most),
    turned: new Int32Array(most),
    present: new Float64Array(most),
  };
}

/** Some rows, the first `count` of an array that is used again. */
type Rows = { rows: Int32Array; count: number };
type Day = { table: FinishedTable; rows: Int32Array; from: number; to: number; scratch: Scratch; clock: FleetClock };

function fillDay(daily: DailyMedians, at: number, day: Day): void {
  const { table, rows, from, scratch, clock } = day;
  const { columns } = table;
  const { stratum, own, turned } = rowsOfDay(day);
  daily.day[at] = clock.dayOf(columns.timeUs[rows[from]!]!);
  daily.stratum[at] = stratum;
  daily.cranks[at] = own.count;
  let [dropouts, retries] = [0, 0];
  for (let i = 0; i < own.count; i++) {
    const row = own.rows[i]!;
    dropouts += dropoutsOf(columns, row);
    if (columns.startUs[row]! < columns.timeUs[row]!) retries++;
  }
  daily.dropouts[at] = dropouts;
  daily.retries[at] = retries;
  const medianOf = (of: Rows, column: Float64Array) => presentMedian(of, column, scratch.present);
  daily.tempC[at] = medianOf(own, columns.tempC);
  daily.restAtCrank[at] = medianOf(turned, columns.restVolts);
  const { values } = daily;
  values.log_sag_ratio![at] = Math.log(medianOf(turned, columns.sagRatio));
  values.rest_volts![at] = overnightRest(day);
  values.crank_volts![at] = medianOf(turned, columns.crankVolts);
  values.crank_rpm![at] = medianOf(turned, columns.crankRpm);
  values.crank_seconds![at] = medianOf(turned, columns.crankSeconds);
  values.battery_ohms![at] = medianOf(turned, columns.batteryOhms);
  values.loop_ohms![at] = medianOf(turned, columns.loopOhms);
}

/** The day's commonest stratum, its rows, and of those the ones that turned the engine. */
function rowsOfDay({ table, rows, from, to, scratch }: Day): { stratum: number; own: Rows; turned: Rows } {
  const { source, rateHz, pattern } = table.columns;
  const { strata, own, turned } = scratch;
  for (let i = from; i < to; i++) strata[i - from] = stratumOf(source[rows[i]!]!, rateHz[rows[i]!]!);
  const stratum = commonStratum(strata.subarray(0, to - from));
  let [owned, turning] = [0, 0];
  for (let i = from; i < to; i++) {
    if (strata[i - from] !== stratum) continue;
    const row = rows[i]!;
    own[owned++] = row;
    if (!DID_NOT_TURN.has(pattern[row]!)) turned[turning++] = row;
  }
  return { stratum, own: { rows: own, count: owned }, turned: { rows: turned, count: turning } };
}

/** A solenoid that rattles loses contact many times a second: that is one event, not twenty. */
function dropoutsOf({ pattern, dropouts }: FinishedTable['columns'], row: number): number {
  return pattern[row] === CHATTER ? 1 : dropouts[row]! || 0;
}

/** The most frequent; of equals the lower. */
function commonStratum(strata: Uint8Array): number {
  const first = strata[0]!;
  if (strata.every((each) => each === first)) return first;
  const counts = new Map<number, number>();
  for (const stratum of strata) counts.set(stratum, (counts.get(stratum) ?? 0) + 1);
  return [...counts].reduce((best, next) =>
    next[1] > best[1] || (next[1] === best[1] && next[0] < best[0]) ? next : best,
  )[0];
}

/** Median of the present values; NaN for none. Days hold a handful of cranks. */
function presentMedian({ rows, count }: Rows, column: Float64Array, present: Float64Array): number {
  let known = 0;
  for (let i = 0; i < count; i++) {
    const value = column[rows[i]!]!;
    if (!Number.isNaN(value)) present[known++] = value;
  }
  if (known === 0) return Number.NaN;
  if (known > FEW_VALUES) present.subarray(0, known).sort();
  else insertionSort(present, known);
  const middle = known >> 1;
  return known % 2 === 1 ? present[middle]! : (present[middle - 1]! + present[middle]!) / 2;
}

function overnightRest({ table: { columns }, rows, from, to }: Day): number {
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
