/**
 * An engine that all but stops at a compression: the voltage lies at the bottom of its ripple for longer than the period
 * that its faster moments show, and most of the time. What repeats there is the speed between two stops, not the mean
 * that cranking speed is.
 *
 * @example // ripple of 3 Hz; 6.2 V, for 0.2 s each up to 9 V at 0.5, 1.5, 2.6 and 4.0 s: nearly stalled
 */
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import type { Trace } from './trace.ts';

type Rolling = { from: number; to: number; rippleHz: number };

export function isNearlyStalled({ recording, stepSeconds }: Trace, { from, to, rippleHz }: Rolling): boolean {
  const span = Math.max(1, Math.round(T.compressionSeconds / stepSeconds));
  const means = meansOf(recording.volts.subarray(from, to), span);
  if (means.length === 0) return false;
  const sorted = means.slice().sort();
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]!;
  const middle = (at(0.05) + at(0.95)) / 2;
  let [low, run, longest] = [0, 0, 0];
  for (const mean of means) {
    run = mean < middle ? run + 1 : 0;
    low += mean < middle ? 1 : 0;
    longest = Math.max(longest, run);
  }
  const periods = longest * span * stepSeconds * rippleHz;
  return periods >= C.stallPeriods && low >= C.stallShare * means.length;
}

/** Means of `span` values each, one after the other. */
function meansOf(values: Float64Array, span: number): Float64Array {
  return Float64Array.from({ length: Math.floor(values.length / span) }, (_, k) => {
    let sum = 0;
    for (let i = k * span; i < (k + 1) * span; i++) sum += values[i]!;
    return sum / span;
  });
}
