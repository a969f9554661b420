/**
 * A pick-up told by single compressions. While the starter turns the engine each of them pulls the voltage down about as
 * low as the ones before. An engine that fires once lets it climb and is caught again: a low as deep as before says that
 * the starter still had the work, so the pick-up is later. And where no line bends, as of an engine that still compresses
 * while it picks up, the pick-up is the last such low, if from it on the voltage stays in the upper half of its ripple
 * for longer than between two compressions, and gets beyond its crests.
 *
 * @example // lows 9.1 V at 0.3, 0.4, 0.5 s, crests 9.9 V; then 9.8 to 11 V from 0.55 s to release at 0.7 s: 0.5 s
 */
import type { Recording } from '../model/samples.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { medianOf, windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { turnsOf, type Turn } from './turning-points.ts';

type Rolling = { from: number; release: number; noiseVolts: number };
/** Turning points of a rolling phase, the sample before the step that ends it, and the samples that a mean is of. */
export type Compressions = { turns: readonly Turn[]; end: number; span: number };

export function compressionsOf(trace: Trace, { from, release, noiseVolts }: Rolling): Compressions {
  const { recording, system, stepSeconds } = trace;
  const lastUs = recording.timeUs[Math.max(from, release - 1)]!;
  const end = indexAt(recording, lastUs - T.contactSeconds * 1e6, from);
  const span = Math.max(1, Math.round(T.compressionSeconds / stepSeconds));
  const least = Math.max(T.climbTurnVolts * system, (T.climbTurnNoises * noiseVolts) / Math.sqrt(span));
  return { turns: end - from < 6 * span ? [] : turnsOf(recording.volts, { from, to: end, span, least }), end, span };
}

/** The last low as deep as those before a pick-up that was found; that pick-up if none is. */
export function caughtAgain(recording: Recording, { turns }: Compressions, pickUp: number): number {
  const until = indexAt(recording, recording.timeUs[pickUp]! + T.compressionSeconds * 1e6, pickUp);
  const ripple = rippleOf(turns.filter(({ at }) => at <= until));
  const last = turns.findLast(({ at, volts, isLow }) => isLow && at > until && volts <= ripple.middle);
  return last?.at ?? pickUp;
}

/** The last low of a starter that turned the engine until then; −1 where the voltage does not show one. */
export function lastLow(recording: Recording, { turns, end, span }: Compressions): number {
  const lows = turns.flatMap(({ isLow }, index) => (isLow ? [index] : []));
  const until = (k: number) => turns.slice(lows[Math.max(0, k - C.lowsBefore)], lows[k]! + 1);
  const k = lows.findLastIndex((low, index) => turns[low]!.volts <= rippleOf(until(index)).middle);
  if (lows.length < C.lowsLeast || k < 1) return -1;
  const { at } = turns[lows[k]!]!;
  const { middle, beyond } = rippleOf(until(k));
  const later = turns.slice(lows[k]! + 1);
  const isLong = secondsBetween(recording, at, end) > C.climbMostSeconds;
  if (isLong || later.some(({ volts }) => volts < middle)) return -1;
  const { volts } = recording;
  const stride = Math.max(1, span >> 2);
  let up = at;
  while (up + span < end && windowMedian(volts, up, up + span) < middle) up += stride;
  const top = later.reduce(
    (most, turn) => Math.max(most, turn.volts),
    windowMedian(volts, Math.max(up, end - span), end),
  );
  const stays = secondsBetween(recording, up, end) >= C.staysPeriods * period(recording, until(k));
  return stays && top >= beyond ? at : -1;
}

/** The middle between lows and crests, and what is well beyond the crests, V; NaN where either is missing. */
function rippleOf(turns: readonly Turn[]): { middle: number; beyond: number } {
  const [low, crest] = [true, false].map((isLow) =>
    medianOf(turns.filter((turn) => turn.isLow === isLow).map((turn) => turn.volts)),
  );
  return { middle: (low! + crest!) / 2, beyond: crest! + C.beyondShare * (crest! - low!) };
}

/** Seconds from one low to the next, the median. */
function period(recording: Recording, turns: readonly Turn[]): number {
  const lows = turns.filter(({ isLow }) => isLow);
  return medianOf(lows.slice(1).map(({ at }, index) => secondsBetween(recording, lows[index]!.at, at)));
}
