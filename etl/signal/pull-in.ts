/**
 * A solenoid that pulls in: both its windings draw 60 to 100 A for some tens of ms, evenly, until the plunger has arrived
 * and the pull-in winding is off; then the hold-in winding draws 10 to 35 A (12 V car frames: common bench values).
 * Lamps and small motors also draw most at first, but fade from their first moment on.
 *
 * @example // 12.7 V, 12.35 V for 45 ms, then 12.55 V: a pull-in; 12.35, 12.43, 12.49, 12.53 V at 10 ms: a lamp
 */
import type { RestLevel } from './rest-level.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import type { Trace } from './trace.ts';
import { windowMean } from './window-mean.ts';

/** `first`: first sample of the fall; `settled`: from there on the level is `depth` below rest. */
type Fall = { first: number; settled: number; depth: number; rest: RestLevel };

/** Whether the fall is a pull-in and what follows a hold-in. False where samples are too far apart to tell. */
export function isPullIn({ recording, stepSeconds }: Trace, { first, settled, depth, rest }: Fall): boolean {
  const { volts } = recording;
  const noise = Math.max(rest.noiseVolts, rest.stepVolts / 2);
  const half = depth + 0.5 * (rest.volts - lowest(volts, first, settled + 1) - depth);
  // The current rises through the windings' inductance: the first samples may be on their way.
  let begin = first;
  while (begin < settled && rest.volts - volts[begin]! <= half) begin++;
  let at = begin;
  while (at <= settled && rest.volts - volts[at]! > half) at++;
  const samples = at - begin;
  if (samples < 2 || samples * stepSeconds < T.pullInLeastSeconds) return false;
  const early = windowMean(volts, begin, samples >> 1);
  const late = windowMean(volts, at - (samples >> 1), samples >> 1);
  const deep = rest.volts - Math.max(early, late);
  if (deep < T.solenoidLeastVolts || depth < Math.max(T.holdInVolts, noise)) return false;
  if (depth > T.holdInShare * deep || late - early > T.pullInFades * (deep - depth) + noise) return false;
  // A coil is off within milliseconds; lamps and motors go on fading as they began.
  const off = at + Math.max(1, Math.ceil(T.coilSeconds / stepSeconds));
  if (off > settled) return false;
  const left = rest.volts - windowMean(volts, off - 1, Math.min(samples, settled + 2 - off)) - depth;
  return left <= T.pullInFades * (deep - depth) + noise;
}

function lowest(volts: Float64Array, from: number, to: number): number {
  let least = Infinity;
  for (let i = from; i < to; i++) least = Math.min(least, volts[i]!);
  return least;
}
