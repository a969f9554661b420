import type { Recording } from '../model/samples.ts';

/** Mean by time (trapezoids) of a channel over samples [from, to): jitter does not weigh, what is missing is left out. */
export function timeMean(
  { timeUs }: Recording,
  values: Float64Array,
  { from, to }: { from: number; to: number },
): number {
  let area = 0;
  let spanUs = 0;
  let last = -1;
  for (let i = from; i < to; i++) {
    if (Number.isNaN(values[i]!)) continue;
    if (last >= 0) {
      area += 0.5 * (values[i]! + values[last]!) * (timeUs[i]! - timeUs[last]!);
      spanUs += timeUs[i]! - timeUs[last]!;
    }
    last = i;
  }
  if (last < 0) return Number.NaN;
  return spanUs > 0 ? area / spanUs : values[last]!;
}
