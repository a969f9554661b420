/**
 * A pick-up by what is missing: a starter that turns an engine passes compressions, each a fall of the voltage. Where the
 * voltage climbs to the release without any, for much longer than it ever rose between two of them, the engine runs by
 * itself. So a pick-up is found that comes while the starter still gains speed, when no straight line bends.
 *
 * @example // minima at 0.2 and 0.4 s, then 10.4 V rising smoothly to 11.3 V at 0.8 s: 0.4 s
 */
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { turnsOf } from './turning-points.ts';

type Rolling = { from: number; release: number; restVolts: number; noiseVolts: number };

/** Sample at which the smooth climb begins; `release` where there is none. */
export function smoothClimb(trace: Trace, { from, release, restVolts, noiseVolts }: Rolling): number {
  const { recording, system, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const end = indexAt(recording, timeUs[Math.max(from, release - 1)]! - T.contactSeconds * 1e6, from);
  const span = Math.max(1, Math.round(T.compressionSeconds / stepSeconds));
  if (end - from < 6 * span) return release;
  const least = Math.max(T.climbTurnVolts * system, (T.climbTurnNoises * noiseVolts) / Math.sqrt(span));
  const turns = turnsOf(volts, { from, to: end, span, least });
  const last = turns.at(-1);
  if (last === undefined || !last.isLow || turns.length < 2) return release;
  const climbs = secondsBetween(recording, last.at, end);
  const between = turns.slice(1).map(({ at }, index) => secondsBetween(recording, turns[index]!.at, at));
  if (climbs < T.climbTimes * Math.max(...between) || climbs < T.climbFallTimes * between.at(-1)!) return release;
  const level = windowMedian(volts, from, Math.max(from + 1, last.at));
  const top = windowMedian(volts, Math.max(last.at, end - span), end);
  return top - level >= T.pickUpShare * (restVolts - level) ? last.at : release;
}
