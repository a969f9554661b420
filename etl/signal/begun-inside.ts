/**
 * A record that begins low and then steps up has begun inside a crank, if what is low turns an engine or starts one: a
 * heater that was on already is none. Its onset is the record's first sample; rest, dip and seconds stay unknown. A
 * record that a trigger began just before the inrush has not: it begins high, or falls first.
 */
import { answersRequest } from './answers-request.ts';
import { isLaterInrush } from './later-inrush.ts';
import type { FoundCrank } from './measured-row.ts';
import { releaseAfter, type Phases } from './phases.ts';
import { pickUp } from './pick-up.ts';
import { isRestless } from './restless.ts';
import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { isAsked } from './start-request.ts';
import { hasRipple, startsEngine } from './starters-load.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** The crank that the first sample lies in; null if it lies in none, or in one that the record does not see end. */
export function begunInside(trace: Trace): FoundCrank | null {
  const { recording, system } = trace;
  if (!beginsLow(trace)) return null;
  const assumed = T.typicalRestVolts * system;
  const end = releaseAfter(trace, { onset: 0, dip: 0, restVolts: assumed, noiseVolts: 0 });
  if (!end.released) return inside(trace);
  const rollingVolts = heldVolts(trace, end.release);
  const after = levelAfter(trace, end.release);
  if (after - rollingVolts < T.inrushVolts * 0.8 * system) return null;
  if (inrushSeen(trace, { release: end.release, rollingVolts, after })) return null;
  const depth = after - rollingVolts;
  const load = { from: 0, to: end.release, restVolts: after, mostVolts: depth, heldVolts: depth };
  if (isLaterInrush(trace, load)) return null;
  const rollingTo = pickUp(trace, {
    from: 0,
    release: end.release,
    restVolts: Math.min(after, assumed),
    noiseVolts: 0,
  });
  const phases = { onset: 0, dip: 0, rollingFrom: 0, rollingTo, rollingVolts, ...end };
  return turns(trace, phases, after) ? { phases, rest: null, until: recording.count } : null;
}

/** The record ends inside as well: ripple is all that there is to go by. */
function inside(trace: Trace): FoundCrank | null {
  const { recording } = trace;
  const { volts, count } = recording;
  const rollingVolts = windowMedian(volts, 0, count);
  if (secondsBetween(recording, 0, count - 1) < T.begunLeastSeconds) return null;
  if (rollingVolts > T.begunBelowVolts * trace.system || !hasRipple(trace, 0, count)) return null;
  if (isAsked(recording, 0, count) === false) return null;
  const contact = { release: count, released: false, dropouts: 0, dropoutSeconds: 0, losses: [] };
  const phases = { onset: 0, dip: 0, rollingFrom: 0, rollingTo: count, rollingVolts, ...contact };
  return { phases, rest: null, until: count };
}

/** An engine that picks up raises most of a short remainder: how low the starter held it, its beginning tells. */
function heldVolts(trace: Trace, release: number): number {
  const { recording } = trace;
  const median = windowMedian(recording.volts, 0, release);
  const isShort = secondsBetween(recording, 0, release) <= T.pickUpWatchSeconds;
  return isShort ? Math.min(median, levelAtFirst(trace)) : median;
}

function levelAtFirst({ recording }: Trace): number {
  const to = indexAt(recording, recording.timeUs[0]! + T.begunLevelSeconds * 1e6);
  return windowMedian(recording.volts, 0, Math.max(2, to));
}

function beginsLow(trace: Trace): boolean {
  const { recording, system } = trace;
  const level = levelAtFirst(trace);
  const below = isAsked(recording, 0, 1) === true ? T.begunAskedBelowVolts : T.begunBelowVolts;
  return level < below * system && level > T.deadShare * T.typicalRestVolts * system;
}

/** Volts soon after release: the battery has recovered most, an engine that runs does not charge yet. */
function levelAfter({ recording }: Trace, release: number): number {
  const { timeUs, volts, count } = recording;
  const from = indexAt(recording, timeUs[release]! + 0.02e6, release);
  const to = indexAt(recording, timeUs[release]! + 0.3e6, from);
  return to > from ? windowMedian(volts, from, to) : volts[Math.min(release, count - 1)]!;
}

/** What stands before the steepest fall is near what comes after: the record's own beginning is before the inrush. */
function inrushSeen({ recording, system, stepSeconds }: Trace, { release, rollingVolts, after }: Seen): boolean {
  const { volts, timeUs } = recording;
  const lag = Math.max(1, Math.round(T.lookSeconds / stepSeconds));
  const until = Math.min(release, indexAt(recording, timeUs[0]! + T.begunWatchSeconds * 1e6));
  let steepest = lag;
  for (let i = lag; i < until; i++)
    if (volts[i - lag]! - volts[i]! > volts[steepest - lag]! - volts[steepest]!) steepest = i;
  const rest = Math.min(after, T.restMostVolts * system);
  return windowMedian(volts, 0, steepest - lag + 1) > rollingVolts + T.releaseShare * (rest - rollingVolts);
}

type Seen = { release: number; rollingVolts: number; after: number };

/** Ripple; or so deep as only a starter, or less deep and restless, or followed by an engine that charges. */
function turns(trace: Trace, phases: Phases, after: number): boolean {
  const { release, rollingVolts, rollingTo } = phases;
  if (hasRipple(trace, 0, rollingTo) || hasRipple(trace, 0, release)) return true;
  // Where requests are logged, what nobody asked for turns nothing.
  const asked = isAsked(trace.recording, 0, release);
  if (asked === false) return false;
  if (answersRequest(trace, { from: 0, to: release, fallVolts: after - rollingVolts })) return true;
  const restVolts = Math.min(after, T.typicalRestVolts * trace.system);
  if (asked === true && startsEngine(trace, phases, restVolts)) return true;
  if (restVolts - rollingVolts >= T.crankShare * restVolts) return true;
  if (restVolts - rollingVolts < T.crankShareSlow * restVolts) return false;
  const { volts } = trace.recording;
  const to = indexAt(trace.recording, trace.recording.timeUs[release]! + 0.5e6, release);
  const from = Math.min(release + 2, to);
  const noiseVolts = to - from > 3 ? windowNoise(volts, from, to, after) : 0;
  const rest = { noiseVolts, stepVolts: windowStep(volts, 0, release) };
  return isRestless(trace, { from: 0, to: release, rest }) || startsEngine(trace, phases, restVolts);
}
