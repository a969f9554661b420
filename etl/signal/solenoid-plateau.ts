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
  if (first < T.plateauRestSamples || depth > T.solenoidMostVolts * system * cold) return false;
  if (seconds > T.keyMostSeconds || seconds < T.holdInLeastSeconds) return false;
  if (isPullIn(trace, { first, settled: from, depth, rest })) return true;
  if (seconds < T.bothWindingsLeastSeconds || seconds > T.bothWindingsMostSeconds) return false;
  // One step of a coarse sensor is no fall.
  const volts = drawsAsWindings(trace, held) ? T.bothWindingsVoltsByAmps : T.bothWindingsVolts;
  const least = Math.max(volts, T.bothWindingsSteps * stepOf(trace, held));
  return depth >= least && isEven(trace, held, T.bothWindingsFade);
}

/** By the current, where it is logged. */
function drawsAsWindings({ recording }: Trace, { first, plateau, seconds }: HeldPlateau): boolean {
  const { amps, timeUs } = recording;
  if (amps === null) return false;
  const end = indexAt(recording, timeUs[first]! + 0.95e6 * seconds, plateau.from);
  const before = windowMedian(amps, indexAt(recording, timeUs[first]! - T.plateauLevelSeconds * 1e6), first);
  const drawn = windowMedian(amps, plateau.from, Math.max(end, plateau.from + 1)) - before;
  const [least, most] = T.bothWindingsAmps;
  return drawn >= least && drawn <= most;
}

/** Step of the sensor, as far as rest, plateau and the fall between show it. */
function stepOf({ recording }: Trace, { first, rest, seconds }: HeldPlateau): number {
  const end = indexAt(recording, recording.timeUs[first]! + seconds * 1e6, first);
  const step = windowStep(recording.volts, Math.max(0, first - 2), end);
  return rest.stepVolts > 0 ? Math.min(rest.stepVolts, step) : step;
}

/** Settled after a moment of little more (a plunger that pulls in), and from then on level but for this share. */
export function isEven(trace: Trace, held: HeldPlateau, fades: number): boolean {
  const { recording, stepSeconds } = trace;
  const { timeUs, volts } = recording;
  const { first, plateau, rest, seconds } = held;
  // A level just between two steps of the sensor reads as either.
  const step = T.plateauSteps * stepOf(trace, held);
  const fall = (fromSeconds: number, toSeconds: number) => {
    const from = indexAt(recording, timeUs[first]! + fromSeconds * 1e6, first);
    const to = indexAt(recording, timeUs[first]! + toSeconds * 1e6, from);
    return rest.volts - windowMedian(volts, from, Math.max(from + 1, to));
  };
  const late = fall(0.6 * seconds, 0.95 * seconds);
  const { depth } = plateau;
  const isLevel = late >= (1 - fades) * depth - step && late <= (1 + T.plateauDeepens) * depth + step;
  // Where samples are far apart the first may be all that shows of an inrush.
  const early = Math.max(stepSeconds > T.coilSeconds ? fall(0, 0) : 0, fall(T.coilSeconds, T.pullInMostSeconds));
  return isLevel && early <= T.pullInMostTimes * depth + step;
}
