/**
 * Finds the cranks of one recording. Each sample is compared with the one 30 ms before: only a fall as deep as a
 * solenoid's is looked at closer, so that hours of quiet cost one subtraction a sample.
 *
 * A fall is a crank if it is as deep as only a starter's, or less deep with compression ripple behind it. Loads that
 * switch on (lamps, blower, lift gate, heater) fall without ripple and stay shallow.
 */
import type { Recording } from '../model/samples.ts';
import { answersRequest } from './answers-request.ts';
import { begunInside } from './begun-inside.ts';
import { endOf, withEnds, type Candidate } from './candidate.ts';
import { chatterAfter } from './chatter.ts';
import { engineRunsAfter } from './engine-runs-after.ts';
import { featuresOf } from './features.ts';
import type { FoundCrank, MeasuredRow } from './measured-row.ts';
import { fallBegins, firstFall, isFall } from './first-fall.ts';
import { freeSpinAfter } from './free-spin.ts';
import { heatersApart } from './heaters-apart.ts';
import { lowest, onsetOf, phasesFrom, type Phases } from './phases.ts';
import { plateauAfter } from './plateau.ts';
import { withoutRepeats } from './repeated-samples.ts';
import { restBefore, restJustBefore, type RestLevel } from './rest-level.ts';
import { inrushFollows, isStarters } from './starters-load.ts';
import { isStalledStarter } from './stalled.ts';
import { isAsked } from './start-request.ts';
import { stillRow } from './still.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import { traceOf, type Trace } from './trace.ts';
import { unansweredRequests } from './unanswered-request.ts';

/** A row and the samples it was read from: [from, to) is what a person wants to see of it. */
export type SearchedCrank = { row: MeasuredRow; from: number; to: number };

export type Search = {
  cranks: SearchedCrank[];
  /** Samples before this index are done with; from it on they are needed again when more come. */
  doneBefore: number;
};

/** `more`: the recording goes on. What may still change with it is left for the next call. */
export function searchCranks(recording: Recording, more: boolean): Search {
  const told = withoutRepeats(recording);
  if (told === null) return searchSamples(recording, more);
  const { cranks, doneBefore } = searchSamples(told.recording, more);
  const written = (index: number) => told.at[index] ?? recording.count;
  return {
    cranks: cranks.map(({ row, from, to }) => ({ row, from: written(from), to: written(to) })),
    doneBefore: written(doneBefore),
  };
}

function searchSamples(recording: Recording, more: boolean): Search {
  const trace = traceOf(recording);
  const found = candidates(trace);
  const holdFrom = more ? settledBefore(trace, found) : recording.count;
  const cranks = heatersApart(recording, found)
    .filter(
      (each) => each.at < holdFrom && !(each.kind === 'still' && each.form === 'preheat' && each.to >= recording.count),
    )
    .map((each) => ({ row: rowOf(trace, each), ...viewOf(trace, each) }));
  return { cranks, doneBefore: Math.min(holdFrom, indexAt(recording, recording.timeUs[recording.count - 1]! - 3e6)) };
}

function candidates(trace: Trace): Candidate[] {
  const { recording, stepSeconds } = trace;
  const { volts, count } = recording;
  const lag = Math.max(T.lookSamples, Math.round(T.lookSeconds / stepSeconds));
  const least = T.lookVolts;
  const found: Candidate[] = [];
  let at = lag;
  const begun = begunInside(trace);
  if (begun !== null) {
    found.push({ kind: 'crank', at: 0, crank: begun });
    at = Math.max(lag, begun.phases.release + 1);
  }
  for (;;) {
    at = nextFall(volts, { from: at, to: count, lag, least });
    if (at >= count) break;
    const seen = isFall(trace, { at, lag }) ? lookAt(trace, at, lag) : null;
    const last = found.at(-1);
    // What reaches back into the one before is part of it.
    const candidate = seen !== null && last !== undefined && seen.at <= endOf(last) ? null : seen;
    if (candidate === null) at += Math.max(1, Math.round(0.02 / stepSeconds));
    else {
      found.push(candidate);
      // What was lower before it ended is this one's own fall.
      at = Math.max(at + 1, endOf(candidate) + 1 + (candidate.kind === 'crank' ? lag : 0));
    }
  }
  return withEnds(withRequests(trace, found), count);
}

type Falling = { from: number; to: number; lag: number; least: number };

/** First sample of [from, to) that is `least` volts or more under the one `lag` samples before; `to` if none is. */
function nextFall(volts: Float64Array, { from, to, lag, least }: Falling): number {
  let at = from;
  // A loop of its own: hours of quiet pass here, and inside of a longer function it takes three times as long.
  while (at < to && volts[at - lag]! - volts[at]! < least) at++;
  return at;
}

/** What answers no request in vain takes the place of a load that was only seen to fall meanwhile. */
function withRequests(trace: Trace, found: readonly Candidate[]): Candidate[] {
  const known = found.map((each) => ({ at: each.at, to: endOf(each), isCrank: each.kind === 'crank' }));
  const stills = unansweredRequests(trace, known);
  if (stills.length === 0) return [...found];
  const replaced = (each: Candidate) =>
    each.kind === 'still' && stills.some((still) => each.at < still.to && still.at <= each.to);
  return [...found.filter((each) => !replaced(each)), ...stills].sort((a, b) => a.at - b.at);
}

function lookAt(trace: Trace, at: number, lag: number): Candidate | null {
  const { recording } = trace;
  const { volts } = recording;
  const before = Math.max(1, at - lag + 1);
  const rest = restBefore(trace, before);
  const near = volts[at]! > rest.fallVolts ? restJustBefore(trace, before, rest) : rest;
  const first = firstFall(trace, { at, lag }, near);
  if (first < 0) return null;
  const chatter = chatterAfter(trace, first, rest);
  const chattered: Candidate | null =
    chatter === null ? null : { kind: 'crank', at: chatter.phases.onset, crank: chatter };
  if (chatter !== null && !engineRunsAfter(trace, chatter)) return chattered;
  const dip = dipAfter(trace, first);
  const depth = rest.volts - volts[dip]!;
  if (depth >= T.rippleShare * rest.volts) {
    const onset = onsetOf(trace, dip, rest);
    const crank = freeSpinAfter(trace, { onset, dip, rest }) ?? crankFrom(trace, { onset, dip, rest });
    if (crank !== null) return { kind: 'crank', at: onset, crank };
  }
  return chattered ?? stillFrom(trace, first, near);
}

function stillFrom(trace: Trace, first: number, rest: RestLevel): Candidate | null {
  const plateau = plateauAfter(trace, first, rest);
  if (plateau === null) return null;
  const { kind, plain, to, depth } = plateau;
  const form = kind === 'heater' ? 'preheat' : 'solenoid_only';
  // Where requests are logged, what falls without one is no solenoid.
  const asked = isAsked(trace.recording, first, to);
  if (form === 'solenoid_only' && asked === false) return null;
  // No battery rests so high: an engine runs, whose loads and alternator make such falls.
  if (form === 'solenoid_only' && asked === null && rest.volts > T.restMostVolts * trace.system) return null;
  const at = fallBegins(trace, { seen: first, depth }, rest);
  return { kind: 'still', form, at, to, rest, isPlain: plain, isEither: kind === 'either' };
}

/** The lowest sample while the motor may still stand still; a solenoid may have pulled in some time before. */
function dipAfter(trace: Trace, first: number): number {
  const { recording } = trace;
  const { volts, timeUs, count } = recording;
  const until = Math.min(
    count,
    indexAt(recording, timeUs[first]! + (T.solenoidSeconds + T.stalledSeconds) * 1e6, first) + 1,
  );
  const deepest = lowest(volts, first, until);
  // What falls deeper once the motor turns is a compression that all but stops it, or a bank that gives way.
  let closed = first;
  while (closed < deepest && volts[first - 1]! - volts[closed]! < T.inrushHalf * (volts[first - 1]! - volts[deepest]!))
    closed++;
  const turns = indexAt(recording, timeUs[closed]! + T.inrushSeconds * 1e6, closed) + 1;
  let at = lowest(volts, closed, Math.min(Math.max(turns, closed + 1), Math.max(until, closed + 1)));
  // Still falling where the window ends: on to the bottom.
  while (at + 1 < count && volts[at + 1]! < volts[at]! && secondsBetween(recording, first, at) < 0.5) at++;
  return at;
}

function crankFrom(
  trace: Trace,
  { onset, dip, rest }: { onset: number; dip: number; rest: RestLevel },
): FoundCrank | null {
  const { recording } = trace;
  const phases = phasesFrom(trace, onset, dip, rest);
  const seconds = secondsBetween(recording, onset, Math.min(phases.release, recording.count - 1));
  if (seconds > T.longestCrankSeconds || seconds < T.crankLeastSeconds) return null;
  if (inrushFollows(trace, phases, rest)) return null;
  const isCrank =
    isStarters(trace, phases, rest) || isAnswer(trace, phases, rest) || isStalledStarter(trace, phases, rest);
  return isCrank ? { phases, rest, until: recording.count } : null;
}

function isAnswer(trace: Trace, { onset, release, rollingVolts }: Phases, rest: RestLevel): boolean {
  if (rest.volts > T.runningVolts * trace.system) return false;
  return answersRequest(trace, { from: onset, to: release, fallVolts: rest.volts - rollingVolts });
}

function rowOf(trace: Trace, candidate: Candidate): MeasuredRow {
  return candidate.kind === 'crank' ? featuresOf(trace, candidate.crank) : stillRow(trace, candidate);
}

const SHOWN_BEFORE_US = 1.5e6;
const SHOWN_AFTER_US = 3e6;

function viewOf(trace: Trace, candidate: Candidate): { from: number; to: number } {
  const { recording } = trace;
  const end = Math.min(endOf(candidate), recording.count - 1);
  const from = indexAt(recording, recording.timeUs[candidate.at]! - SHOWN_BEFORE_US);
  return { from, to: indexAt(recording, recording.timeUs[end]! + SHOWN_AFTER_US, candidate.at) };
}

/**
 * With more samples to come: everything before the first crank whose charging cannot be told yet, or before the last
 * seconds, is settled.
 */
function settledBefore(trace: Trace, found: readonly Candidate[]): number {
  const { recording } = trace;
  const lastUs = recording.timeUs[recording.count - 1]!;
  let before = 0;
  for (const candidate of found) {
    const end = endOf(candidate);
    const open = end >= recording.count - 1 || lastUs - recording.timeUs[end]! < (T.chargeToSeconds + 1) * 1e6;
    if (open)
      return Math.min(candidate.at, Math.max(before, indexAt(recording, recording.timeUs[candidate.at]! - 1e6)));
    before = end + 1;
  }
  return recording.count;
}
