/**
 * A heater that is held until the starter falls in: no step back ends it, but a fall much deeper than itself. It begins
 * without an inrush, unlike a motor or cold filaments, and fades as glow plugs do while they heat. Whether what follows
 * is a start is asked by `heaters-apart.ts`.
 *
 * @example // 12.5 V, then 12.1 V at once, 12.2 V five seconds later, then 7.1 V: a heater, and a crank after it
 */
import { lowest } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { isEven, type Level } from './solenoid-plateau.ts';
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

type Held = { first: number; plateau: Level; rest: RestLevel };

/** Sample at which the heater that the fall at sample `falls` ends is over; −1 if it is none. */
export function heaterIntoStart(trace: Trace, held: Held, falls: number): number {
  const { recording } = trace;
  const { first, plateau } = held;
  if (plateau.depth < Math.max(T.heaterAloneVolts, T.heaterOfInrush * inrushDepth(trace, held, falls))) return -1;
  const to = Math.max(plateau.from, indexAt(recording, recording.timeUs[falls]! - T.beforeStartSeconds * 1e6));
  const seconds = secondsBetween(recording, first, to);
  if (seconds < T.heaterAloneSeconds || hasInrush(trace, held)) return -1;
  return isEven(trace, { ...held, seconds }, T.glowFade) ? to : -1;
}

/** How deep the starter goes, as far as the log meets it: the same bank, so a heater's current is a share of it. */
function inrushDepth({ recording }: Trace, { rest }: Held, falls: number): number {
  const until = indexAt(recording, recording.timeUs[falls]! + T.inrushSeconds * 1e6, falls) + 1;
  return rest.volts - recording.volts[lowest(recording.volts, falls, until)]!;
}

function hasInrush({ recording }: Trace, { first, plateau, rest }: Held): boolean {
  const { timeUs, volts } = recording;
  const from = indexAt(recording, timeUs[first]! + T.filterSeconds * 1e6, first);
  const to = indexAt(recording, timeUs[first]! + T.settledSeconds * 1e6, from);
  const early = rest.volts - windowMedian(volts, from, Math.max(from + 1, to));
  const spread = T.fallSteps * rest.stepVolts + T.fallBeginsNoises * rest.noiseVolts;
  return early > T.heaterInrushTimes * plateau.depth + spread;
}
