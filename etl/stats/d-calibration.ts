/**
 * D-calibration: whether failures come evenly over the forecast's own scale of survival.
 *
 * For: forecasts as whole curves. Each life's forecast survival at its own end, S(T), should be uniform: each of ten
 * bins holds a tenth. A life cut off at S(c) is spread evenly over what lies below S(c) (Haider, Hoehn, Davis & Greiner
 * 2020). The chi-square test takes the lives to be independent: give it each life once.
 * Shapes: one survival and one event a life; bin 0 is the lowest survival. Throws StatisticsRefusal for no lives, a
 * survival outside 0 to 1, or fewer than two bins. O(n · bins).
 *
 * @example // three failures at S = 0.05, 0.15, 0.95 and one life cut off at 0.5
 * dCalibration(Float64Array.of(0.05, 0.15, 0.95, 0.5), Uint8Array.of(1, 1, 1, 0)).bins // 1.2 1.2 .2 .2 .2 0 0 0 0 1
 */
import { chiSquareTail } from './chi-square.ts';
import { StatisticsRefusal } from './refusal.ts';

export type DCalibration = { bins: Float64Array; chiSquare: number; pValue: number };

export function dCalibration(survival: Float64Array, event: Uint8Array, count = 10): DCalibration {
  check(survival, event, count);
  const bins = new Float64Array(count);
  survival.forEach((value, i) => {
    const own = Math.min(count - 1, Math.floor(value * count));
    if (event[i] === 1) bins[own]! += 1;
    else spread(bins, value, own);
  });
  const expected = survival.length / count;
  const chiSquare = bins.reduce((sum, found) => sum + (found - expected) ** 2 / expected, 0);
  return { bins, chiSquare, pValue: chiSquareTail(chiSquare, count - 1) };
}

/** Evenly over 0 … value: whole bins below, what is left in the own one. At 0 the life has nowhere else to go. */
function spread(bins: Float64Array, value: number, own: number): void {
  if (value === 0) {
    bins[0]! += 1;
    return;
  }
  const width = 1 / bins.length;
  for (let bin = 0; bin < own; bin++) bins[bin]! += width / value;
  bins[own]! += (value - own * width) / value;
}

function check(survival: Float64Array, event: Uint8Array, count: number): void {
  const what = 'dCalibration';
  if (survival.length === 0) throw new StatisticsRefusal(what, 'at least one life', 0, 'survival');
  if (event.length !== survival.length)
    throw new StatisticsRefusal(what, `${survival.length} values, one a life`, event.length, 'event');
  if (!(Number.isInteger(count) && count >= 2)) throw new StatisticsRefusal(what, 'two bins or more', count, 'count');
  survival.forEach((value, i) => {
    if (!(value >= 0 && value <= 1))
      throw new StatisticsRefusal(what, 'a survival from 0 to 1', value, `survival[${i}]`);
  });
}
