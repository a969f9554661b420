/**
 * An engine that all but stops at a compression: for a whole period of its ripple the voltage hardly moves. What repeats
 * besides is the speed between two stops, not the mean that cranking speed is.
 *
 * @example // ripple of 3 Hz; 6.2 V, for 0.2 s each up to 9 V at 0.5, 0.8, 2.0 and 2.3 s: it stopped at 1.4 s
 */
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import type { Trace } from './trace.ts';
import { windowMean } from './window-mean.ts';

type Rolling = { from: number; to: number; rippleHz: number };

export function isNearlyStalled({ recording, stepSeconds }: Trace, { from, to, rippleHz }: Rolling): boolean {
  const span = Math.max(1, Math.round(T.compressionSeconds / stepSeconds));
  const half = Math.round(0.5 / (rippleHz * span * stepSeconds));
  const means = meansOf(recording.volts.subarray(from, to), span);
  if (half < C.stallLeastMeans || means.length < 4 * half) return false;
  const moves = Float64Array.from({ length: means.length - 2 * half }, (_, k) => range(means, k, k + 2 * half + 1));
  const least = moves.reduce((most, each) => Math.min(most, each), Infinity);
  return least < C.stallMoves * windowMedian(moves, 0, moves.length);
}

/** Means of `span` values each, one after the other. */
function meansOf(values: Float64Array, span: number): Float64Array {
  return Float64Array.from({ length: Math.floor(values.length / span) }, (_, k) => windowMean(values, k * span, span));
}

/** Greatest less least of values [from, to). */
function range(values: Float64Array, from: number, to: number): number {
  let [low, high] = [Infinity, -Infinity];
  for (let i = from; i < to; i++) {
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  return high - low;
}
