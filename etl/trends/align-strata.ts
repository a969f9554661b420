import { median } from '../stats/quantile.ts';
import type { CorrectedSeries } from './correction.ts';

/** A stratum with fewer days than this share is left out: a few waveforms among years of event rows. */
const LEAST_SHARE = 0.08;
/** Days on each side of a change of logger that are compared. */
const COMPARED_DAYS = 30;

/**
 * Puts the loggers of one engine on one level. Sag depends on the sampling rate, so a slower logger reads a shallower
 * dip: where the logger changes, what came before is moved by the difference of the medians on both sides. A true step
 * on that very day is lost with it; that is the price. Rows of rare strata are dropped.
 */
export function alignStrata(series: CorrectedSeries): CorrectedSeries {
  if (series.stratum.every((stratum) => stratum === series.stratum[0])) return series;
  const counts = new Map<number, number>();
  for (const stratum of series.stratum) counts.set(stratum, (counts.get(stratum) ?? 0) + 1);
  const kept = [...counts].filter(([, count]) => count >= LEAST_SHARE * series.day.length).map(([stratum]) => stratum);
  const rows: number[] = [];
  series.stratum.forEach((stratum, row) => {
    if (kept.includes(stratum)) rows.push(row);
  });
  const chosen = pick(series, rows);
  for (let at = chosen.day.length - 1; at > 0; at--) {
    if (chosen.stratum[at] === chosen.stratum[at - 1]) continue;
    const step = levelAfter(chosen, at) - levelBefore(chosen, at);
    for (let row = 0; row < at; row++) chosen.corrected[row] = chosen.corrected[row]! + step;
  }
  return chosen;
}

function levelAfter(series: CorrectedSeries, at: number): number {
  let to = at;
  while (to < series.day.length && series.stratum[to] === series.stratum[at] && to - at < COMPARED_DAYS) to++;
  return median(series.corrected.subarray(at, to));
}

function levelBefore(series: CorrectedSeries, at: number): number {
  let from = at;
  while (from > 0 && series.stratum[from - 1] === series.stratum[at - 1] && at - from < COMPARED_DAYS) from--;
  return median(series.corrected.subarray(from, at));
}

function pick(series: CorrectedSeries, rows: readonly number[]): CorrectedSeries {
  const take = (values: Float64Array) => Float64Array.from(rows, (row) => values[row]!);
  return {
    day: Int32Array.from(rows, (row) => series.day[row]!),
    stratum: Uint8Array.from(rows, (row) => series.stratum[row]!),
    value: take(series.value),
    tempC: take(series.tempC),
    restVolts: take(series.restVolts),
    corrected: take(series.corrected),
    hasTemperature: series.hasTemperature,
  };
}
