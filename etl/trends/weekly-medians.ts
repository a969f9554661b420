import { median } from '../stats/quantile.ts';

export type Weekly = { day: Float64Array; value: Float64Array };

/**
 * Medians of the weeks (day number / `days`) that have a value, dated at the mean of their days. For: rank tests and
 * drifts, which days that follow each other closely would make look surer than they are.
 */
export function weeklyMedians(day: Int32Array, value: Float64Array, days = 7): Weekly {
  const times: number[] = [];
  const medians: number[] = [];
  for (let from = 0; from < day.length;) {
    const week = Math.floor(day[from]! / days);
    let to = from;
    let sum = 0;
    for (; to < day.length && Math.floor(day[to]! / days) === week; to++) sum += day[to]!;
    times.push(sum / (to - from));
    medians.push(median(value.subarray(from, to)));
    from = to;
  }
  return { day: Float64Array.from(times), value: Float64Array.from(medians) };
}
