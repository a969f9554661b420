/**
 * Free spin: the motor whirrs and the engine does not turn (drive clutch, pinion). An inrush, then within a moment the
 * small even current of no load, until the key is let go: at most 90 A where the stalled motor took 780 to 980 A (common
 * bench values), with no compressions in it.
 *
 * @example // 12.6 V, inrush to 8 V, after 0.12 s level at 12.1 V for 1.5 s, then 12.6 V: free_spin
 */
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import type { RestLevel } from './rest-level.ts';
import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

type Span = { onset: number; dip: number; release: number };

export function isFreeSpin(trace: Trace, { onset, dip, release }: Span, rest: RestLevel): boolean {
  const { recording, system, rateHz } = trace;
  const { volts, timeUs } = recording;
  if (rateHz < T.dipLeastHz || rest.volts > T.runningVolts * system) return false;
  const inrush = rest.volts - volts[dip]!;
  if (inrush < P.spinInrushShare * rest.volts) return false;
  const from = indexAt(recording, timeUs[onset]! + P.spinUpSeconds * 1e6, onset);
  const to = Math.min(release, recording.count) - Math.max(1, Math.round(T.contactSeconds / trace.stepSeconds));
  if (to - from < 3 || secondsBetween(recording, from, to) < P.spinLeastSeconds) return false;
  const level = windowMedian(volts, from, to);
  const left = rest.volts - level;
  const most = Math.min(P.spinShare * inrush, P.spinMostVolts * system);
  if (left > most || left < Math.max(2 * rest.noiseVolts, P.holdLeastVolts)) return false;
  const moves = windowNoise(volts, from, to, level);
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * Math.max(rest.stepVolts, windowStep(volts, from, to)));
  return moves <= Math.max(P.spinRippleShare * inrush, P.spinRippleNoises * noise);
}
