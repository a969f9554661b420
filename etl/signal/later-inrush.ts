/**
 * A load, then the starter, without a pause between: from the level that the load holds it falls once more, at once, and
 * deeper than any fall of the load's own. A motor that a compression stops goes down by and by; one whose contact was lost
 * falls from a level that had come back.
 */
import { windowMedian, windowNoise } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

type Load = {
  /** Samples [from, to) to look at. */
  from: number;
  to: number;
  /** Level without the load; how far the load pulls down, at most and for long. */
  restVolts: number;
  mostVolts: number;
  heldVolts: number;
};

export function isLaterInrush({ recording }: Trace, { from, to, restVolts, mostVolts, heldVolts }: Load): boolean {
  const { volts, timeUs, count } = recording;
  const back = restVolts - (1 - T.lostShare) * heldVolts;
  for (let i = Math.max(1, from); i < Math.min(to, count); i++) {
    if (restVolts - volts[i]! <= T.laterInrushShare * mostVolts) continue;
    const before = Math.min(i - 1, indexAt(recording, timeUs[i]! - T.inrushSeconds * 1e6));
    const fall = volts[before]! - volts[i]!;
    if (volts[before]! > back || fall < T.laterInrushSteep * mostVolts) continue;
    if (before <= from || timeUs[before]! - timeUs[from]! < T.spinUpSeconds * 1e6) continue;
    // From a level: compressions that fall as far do so from one that moves as much.
    const level = windowMedian(volts, from, before + 1);
    if (windowNoise(volts, from, before + 1, level) <= T.laterInrushLevel * fall) return true;
  }
  return false;
}
