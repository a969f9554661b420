/**
 * The first compression after the inrush: where the starter stops gaining speed for the first time. While the motor spins
 * up the voltage may rise all through it, so that there is no minimum to be seen; but its rise slackens as the piston
 * goes up and quickens again beyond. So it is looked for as the first minimum of the slope (of means over 20 ms) that
 * follows the steep rise out of the dip and is followed by a steeper rise. Where later compressions are seen, it must turn
 * the slope by a share of what they do: a shoulder of the spin-up turns it less.
 *
 * @example // 7 V, up to 9.0 V in 0.08 s, 9.1 V after 0.12 s, 9.6 V after 0.16 s: about 0.11 s after the dip
 */
import type { RestLevel } from './rest-level.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

type Span = {
  onset: number;
  dip: number;
  end: number;
  rest: Pick<RestLevel, 'noiseVolts' | 'stepVolts'>;
  /** Up to here the starter turned the engine, if that is known: what later compressions do can be seen. */
  rolledTo?: number;
};

/** Its sample; at the latest the one 0.3 s after onset, or `end`. */
export function firstCompression(trace: Trace, { onset, dip, end, rest, rolledTo = 0 }: Span): number {
  const { recording, system, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const latest = Math.min(end, indexAt(recording, timeUs[onset]! + T.rollingLatestSeconds * 1e6, onset));
  const span = Math.max(1, Math.round(T.compressionSeconds / stepSeconds));
  const stride = Math.max(1, span >> 2);
  // Rise from the means of one span to those of the next, about sample i.
  const rise = (i: number) => meanOf(volts, i, Math.min(end, i + span)) - meanOf(volts, Math.max(dip, i - span), i);
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * rest.stepVolts) * Math.sqrt(2 / span);
  const later = laterSwing(rise, {
    from: latest,
    to: Math.min(rolledTo - span, indexAt(recording, timeUs[onset]! + C.laterSeconds * 1e6, onset)),
    stride,
  });
  const turn = Math.max(T.compressionTurnVolts * system, 3 * noise, C.firstTurnShare * later);
  let [most, least, lowest] = [-Infinity, Infinity, latest];
  for (let i = dip + span; i < latest && i + span < end; i += stride) {
    const now = rise(i);
    if (now > most && least === Infinity) most = now;
    else if (most - now > turn && now < least) [least, lowest] = [now, i];
    else if (least < Infinity && now - least > turn)
      return trough(rise, { from: lowest, turn, stride, latest: Math.min(latest, end - span) });
  }
  return latest;
}

/** How far the slope swings over [from, to), without the tenths at either end; 0 where that is too short to tell. */
function laterSwing(rise: (i: number) => number, span: { from: number; to: number; stride: number }): number {
  const rises: number[] = [];
  for (let i = span.from; i < span.to; i += span.stride) rises.push(rise(i));
  if (rises.length <= C.laterLeast) return 0;
  const sorted = Float64Array.from(rises).sort();
  return sorted[Math.floor(0.9 * (sorted.length - 1))]! - sorted[Math.floor(0.1 * (sorted.length - 1))]!;
}

type Quickening = { from: number; turn: number; stride: number; latest: number };

/** Between the slackest and the steepest rise, where the voltage is lowest against its trend; its minimum if it has one. */
function trough(rise: (i: number) => number, { from, turn, stride, latest }: Quickening): number {
  const least = rise(from);
  let most = least;
  for (let i = from; i < latest && rise(i) > most - turn; i += stride) most = Math.max(most, rise(i));
  const half = Math.min(Math.max(0, (least + most) / 2), most);
  let at = from;
  while (at < latest && rise(at) < half) at += stride;
  return at;
}

function meanOf(volts: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += volts[i]!;
  return sum / (to - from);
}
