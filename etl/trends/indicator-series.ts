import type { Indicator } from '../model/words.ts';
import type { DailyMedians } from './daily-medians.ts';
import { isMedianIndicator } from './indicators.ts';

/** One indicator of one engine over time, missing days left out. Rates are one row a week, dated at its last day. */
export type IndicatorSeries = {
  day: Int32Array;
  stratum: Uint8Array;
  value: Float64Array;
  tempC: Float64Array;
  restVolts: Float64Array;
};

/** Fewer cranks than this make no rate: one dropout in three cranks is not 33 in a hundred. Convention of this program. */
const MIN_CRANKS_FOR_RATE = 5;

/** null where the engine's logs never gave the indicator. */
export function indicatorSeriesOf(daily: DailyMedians, indicator: Indicator): IndicatorSeries | null {
  if (!isMedianIndicator(indicator)) {
    return weeklyRates(daily, indicator === 'dropouts_per_100' ? daily.dropouts : daily.retries);
  }
  const column = daily.values[indicator];
  if (column === undefined) return null;
  const present = presentRows(column);
  return {
    day: taken(new Int32Array(present.length), daily.day, present),
    stratum: taken(new Uint8Array(present.length), daily.stratum, present),
    value: taken(new Float64Array(present.length), column, present),
    tempC: taken(new Float64Array(present.length), daily.tempC, present),
    restVolts: taken(new Float64Array(present.length), daily.restAtCrank, present),
  };
}

/** The chosen rows of a column; `Float64Array.from` with a function takes ten times as long. */
function taken<Column extends Int32Array | Uint8Array | Float64Array>(
  into: Column,
  from: ArrayLike<number>,
  rows: Int32Array,
): Column {
  for (let i = 0; i < rows.length; i++) into[i] = from[rows[i]!]!;
  return into;
}

function presentRows(column: Float32Array): Int32Array {
  const rows = new Int32Array(column.length);
  let count = 0;
  for (let row = 0; row < column.length; row++) if (!Number.isNaN(column[row]!)) rows[count++] = row;
  return rows.subarray(0, count);
}

function weeklyRates(daily: DailyMedians, counted: Uint16Array): IndicatorSeries | null {
  const weeks: { day: number; stratum: number; rate: number }[] = [];
  for (let from = 0; from < daily.day.length;) {
    const week = Math.floor(daily.day[from]! / 7);
    let [to, events, cranks] = [from, 0, 0];
    for (; to < daily.day.length && Math.floor(daily.day[to]! / 7) === week; to++) {
      if (daily.stratum[to] !== daily.stratum[from]) break;
      events += counted[to]!;
      cranks += daily.cranks[to]!;
    }
    if (cranks >= MIN_CRANKS_FOR_RATE) {
      weeks.push({ day: daily.day[to - 1]!, stratum: daily.stratum[from]!, rate: (100 * events) / cranks });
    }
    from = to;
  }
  if (weeks.length === 0) return null;
  return {
    day: Int32Array.from(weeks, (week) => week.day),
    stratum: Uint8Array.from(weeks, (week) => week.stratum),
    value: Float64Array.from(weeks, (week) => week.rate),
    tempC: new Float64Array(weeks.length).fill(Number.NaN),
    restVolts: new Float64Array(weeks.length).fill(Number.NaN),
  };
}

/** The rows from one day to another, both included. */
export function between(series: IndicatorSeries, fromDay: number, toDay: number): IndicatorSeries {
  let from = 0;
  while (from < series.day.length && series.day[from]! < fromDay) from++;
  let to = series.day.length;
  while (to > from && series.day[to - 1]! > toDay) to--;
  return {
    day: series.day.subarray(from, to),
    stratum: series.stratum.subarray(from, to),
    value: series.value.subarray(from, to),
    tempC: series.tempC.subarray(from, to),
    restVolts: series.restVolts.subarray(from, to),
  };
}
