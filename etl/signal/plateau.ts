import type { RestLevel } from './rest-level.ts';
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** A step down, a level stretch, a step back up: a load that is no motor. */
export type Plateau = { kind: 'heater' | 'solenoid'; to: number };

/**
 * The plateau that begins at sample `first`; null for a load that stays on, comes and goes slowly, or is of no kind
 * that matters here: an intake heater draws 60–150 A for seconds, a solenoid pulls 0.1–0.5 V down while it is held.
 */
export function plateauAfter(trace: Trace, first: number, rest: RestLevel): Plateau | null {
  const { recording, system } = trace;
  const { volts, timeUs, count } = recording;
  if (rest.volts > T.runningVolts * system) return null;
  const settled = indexAt(recording, timeUs[first]! + 0.04e6, first);
  const probe = indexAt(recording, timeUs[first]! + 0.12e6, first);
  if (probe >= count) return null;
  const level = windowMedian(volts, settled, Math.max(probe, settled + 1));
  const depth = rest.volts - level;
  if (depth < T.solenoidLeastVolts * system || depth > T.heaterMostVolts * system) return null;
  const end = stepBack(trace, { from: settled, level, depth });
  if (end < 0) return null;
  const seconds = secondsBetween(recording, first, end);
  if (depth <= T.solenoidMostVolts * system && seconds >= T.solenoidLeastSeconds && seconds < T.heaterLeastSeconds)
    return { kind: 'solenoid', to: end };
  if (depth >= T.heaterVolts * system && seconds >= T.heaterLeastSeconds && seconds <= T.heaterLongestSeconds)
    return { kind: 'heater', to: end };
  return null;
}

/** First sample at which most of the depth has come back within a moment; −1 where it drifts, deepens or stays. */
function stepBack(trace: Trace, { from, level, depth }: { from: number; level: number; depth: number }): number {
  const { recording } = trace;
  const { volts, timeUs, count } = recording;
  const untilUs = timeUs[from]! + T.heaterLongestSeconds * 1e6;
  for (let i = from; i < count && timeUs[i]! <= untilUs; i++) {
    if (volts[i]! < level - 0.8 * depth - T.fallVolts * trace.system) return -1;
    if (volts[i]! < level + 0.6 * depth) continue;
    const before = indexAt(recording, timeUs[i]! - 0.08e6);
    return volts[before]! < level + 0.4 * depth ? i : -1;
  }
  return -1;
}
