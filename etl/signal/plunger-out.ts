/**
 * Whether the solenoid's plunger had dropped out while a contact was lost: then it pulls in anew before the contact
 * closes, and both windings take 60–85 A for some tens of ms (common bench values). Where only the contact itself was
 * lost (brushes, burned contacts) the voltage does nothing but recover until it falls. A log of 200 Hz or more shows it.
 *
 * @example // 9.8 V, lost: 12.1, 12.2, 12.2 V, then 11.8 V for 30 ms, then 7 V: it had dropped out, the control was lost
 */
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { windowMedian } from './sorted-window.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Contact open over samples [from, to); null where the log is too slow, or the loss too short, to tell. */
export function isPlungerOut(
  trace: Trace,
  { from, to }: { from: number; to: number },
  noiseVolts: number,
): boolean | null {
  const { recording, rateHz } = trace;
  const { volts, timeUs } = recording;
  if (rateHz < P.plungerLeastHz) return null;
  const at = (us: number) => Math.max(from, Math.min(to, indexAt(recording, us)));
  const end = at(timeUs[to]! - P.inrushEdgeSeconds * 1e6);
  const late = at(timeUs[to]! - P.plungerLateSeconds * 1e6);
  const settled = at(timeUs[from]! + P.arcSeconds * 1e6);
  if (end - late < 2 || late - settled < 2) return null;
  const least = Math.max(P.plungerVolts, (P.pullInNoises * noiseVolts) / Math.sqrt(end - late));
  return highest(volts, { from: settled, to: late, count: end - late }) - windowMedian(volts, late, end) >= least;
}

/** The highest median of `count` samples in a row. */
function highest(volts: Float64Array, { from, to, count }: Record<'from' | 'to' | 'count', number>): number {
  let most = -Infinity;
  const stride = Math.max(1, count >> 1);
  for (let i = from; i + Math.min(count, to - from) <= to; i += stride)
    most = Math.max(most, windowMedian(volts, i, i + Math.min(count, to - from)));
  return most;
}
