import { median } from '../stats/quantile.ts';

export type Weekly = { day: Float64Array; value: Float64Array };

/**
 * Medians of the weeks (day number / `days`) that have a value, dated at the mean of their days. For: rank tests and
 * drifts, which days that follow each other closely would make look surer than they are.
 */
export function weeklyMedians(day: Int32Array, value: Float64Array, days = 7): Weekly {
  const times = new Float64Array(day.length);
  const medians = new Float64Array(day.length);
  let count = 0;
  for (let from = 0; from < day.length;) {
    const end = (Math.floor(day[from]! / days) + 1) * days;
    let to = from;
    let sum = 0;
    for (; to < day.length && day[to]! < end; to++) sum += day[to]!;
    times[count] = sum / (to - from);
    medians[count++] = median(value.subarray(from, to));
    from = to;
  }
  return { day: times.slice(0, count), value: medians.slice(0, count) };
}
