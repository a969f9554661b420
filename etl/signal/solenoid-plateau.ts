/**
 * A solenoid without its motor: seen to pull in; or as deep as one that goes on drawing through both windings since its
 * contacts do not bridge them, without the inrush of lamps and motors, for as long as a key is held in hope.
 *
 * @example // 12.6 V, then 12.3 V at once for 1.2 s, evenly, and 12.6 V again: a solenoid; a lamp fades, a heater lasts
 */
import { batteryColdTimes } from './cold.ts';
import { isPullIn } from './pull-in.ts';
import type { RestLevel } from './rest-level.ts';
import { windowMedian, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Settled from sample `from` on, `depth` below rest. */
export type Level = { from: number; level: number; depth: number };

export type HeldPlateau = { first: number; plateau: Level; rest: RestLevel; seconds: number };

export function isSolenoid(trace: Trace, held: HeldPlateau): boolean {
  const { recording, system } = trace;
  const { first, plateau, rest, seconds } = held;
  const { from, depth } = plateau;
  // What a winding draws pulls a cold bank further down.
  const cold = Math.max(1, batteryColdTimes(recording.tempC?.[first] ?? Number.NaN));
  if (!rest.reportable || depth > T.solenoidMostVolts * system * cold) return false;
  if (seconds > T.keyMostSeconds || seconds < T.holdInLeastSeconds) return false;
  if (isPullIn(trace, { first, settled: from, depth, rest })) return true;
  // One step of a coarse sensor is no fall.
  const step = windowStep(
    recording.volts,
    Math.max(0, first - 2),
    indexAt(recording, recording.timeUs[first]! + seconds * 1e6, first),
  );
  const least = Math.max(T.bothWindingsVolts, T.bothWindingsSteps * Math.max(rest.stepVolts, step));
  return depth >= least && seconds <= T.bothWindingsMostSeconds && isEven(trace, held, T.bothWindingsFade);
}

/** Settled after a moment of little more (a plunger that pulls in), and from then on level but for this share. */
export function isEven({ recording }: Trace, { first, plateau, rest, seconds }: HeldPlateau, fades: number): boolean {
  const { timeUs, volts } = recording;
  const fall = (fromSeconds: number, toSeconds: number) => {
    const from = indexAt(recording, timeUs[first]! + fromSeconds * 1e6, first);
    const to = indexAt(recording, timeUs[first]! + toSeconds * 1e6, from);
    return rest.volts - windowMedian(volts, from, Math.max(from + 1, to));
  };
  const late = fall(0.6 * seconds, 0.95 * seconds);
  const isLevel = late >= (1 - fades) * plateau.depth && late <= (1 + T.plateauDeepens) * plateau.depth;
  return isLevel && fall(T.coilSeconds, T.pullInMostSeconds) <= T.pullInMostTimes * plateau.depth;
}
