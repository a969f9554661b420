/**
 * A start that was asked for and brought no crank: either a solenoid pulled in (a small fall while the request lasts)
 * or nothing drew current at all.
 *
 * The fall is read at both ends of the request, and the smaller one counts: a load that was switched on meanwhile, or a
 * level that drifts, falls at one end only. So a hold-in winding of 7 A is told from silence at any rate, by means of
 * many samples.
 *
 * @example // request for 1 s, 12.60 V before, 12.46 V while it is held, 12.59 V after: solenoid_only
 *          // 12.60 V, 12.59 V, 12.60 V: no_response
 */
import { fallBegins } from './first-fall.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { restJustBefore, type RestLevel } from './rest-level.ts';
import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { startRequests, type StartRequest } from './start-request.ts';
import type { Still } from './still.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** What is known to lie at samples [at, to] of the record; of it, `isCrank` answers a request. */
export type Known = { at: number; to: number; isCrank: boolean };

/** A row for each request that no crank answers. Of one under way when the record began only a solenoid that lets go is seen. */
export function unansweredRequests(trace: Trace, known: readonly Known[]): Still[] {
  const { recording } = trace;
  if (recording.startRequest === null && recording.controlVolts === null) return [];
  return startRequests(recording)
    .filter((request) => !isAnswered(trace, request, known))
    .map((request) => (request.from > 0 ? readRequest(trace, request) : readEnd(trace, request)))
    .filter((still) => still !== null);
}

function isAnswered({ recording }: Trace, { from, to }: StartRequest, known: readonly Known[]): boolean {
  const slackUs = P.requestSlackSeconds * 1e6;
  const { timeUs } = recording;
  const last = Math.min(to, recording.count - 1);
  return known.some(
    (each) =>
      each.isCrank &&
      timeUs[Math.min(each.to, recording.count - 1)]! >= timeUs[from]! - slackUs &&
      timeUs[each.at]! <= timeUs[last]! + slackUs,
  );
}

function readRequest(trace: Trace, request: StartRequest): Still | null {
  const { recording, system } = trace;
  const { from, to } = request;
  const seconds = secondsBetween(recording, from, to - 1) + trace.stepSeconds;
  if (seconds < P.requestLeastSeconds || seconds > P.requestMostSeconds) return null;
  if (hasHole(trace, request)) return null;
  const rest = restJustBefore(trace, from);
  if (rest.volts > T.runningVolts * system || isRunning(trace, request)) return null;
  const fall = fallOf(trace, request, rest);
  if (fall > T.heaterMostVolts * system) return null;
  const mean = Math.sqrt(Math.min(20, (0.5 * seconds) / trace.stepSeconds));
  const least = Math.max(P.holdLeastVolts, (P.holdNoises * rest.noiseVolts) / mean, P.holdSteps * rest.stepVolts);
  const clicks = fall >= least || pullsIn(trace, request, rest);
  if (!clicks) return { kind: 'still', form: 'no_response', at: from, to, rest };
  const seen = firstUnder(trace, request, rest.volts - fall / 2);
  return { kind: 'still', form: 'solenoid_only', at: fallBegins(trace, { seen, depth: fall }, rest), to, rest };
}

/** Begun before the record: the rise at its end is all that there is. */
function readEnd(trace: Trace, { from, to }: StartRequest): Still | null {
  const { recording, system } = trace;
  const { volts, timeUs, count } = recording;
  if (to >= count || secondsBetween(recording, from, to - 1) < P.requestLeastSeconds) return null;
  const edge = indexAt(recording, timeUs[to - 1]! + P.requestEdgeSeconds * 1e6, to);
  const late = indexAt(recording, timeUs[to - 1]! + (P.requestEdgeSeconds + P.requestLevelSeconds) * 1e6, edge);
  if (late >= count || late - edge < 2) return null;
  const begin = indexAt(recording, timeUs[to - 1]! - P.requestLevelSeconds * 1e6);
  const level = windowMedian(volts, begin, to);
  const noise = windowNoise(volts, begin, to, level) / Math.sqrt(Math.min(20, to - begin));
  const rise = windowMedian(volts, edge, late) - level;
  const least = Math.max(P.pullInVolts, P.holdNoises * noise, P.holdSteps * windowStep(volts, begin, late));
  if (rise < least || rise > T.heaterMostVolts * system || level > T.runningVolts * system) return null;
  return { kind: 'still', form: 'solenoid_only', at: from, to, rest: null, isBegun: true };
}

function isRunning({ recording }: Trace, { from, to }: StartRequest): boolean {
  return recording.rpm !== null && windowMedian(recording.rpm, from, to) > T.runningRpm;
}

/** Samples missing inside: what answered the request may lie there. */
function hasHole({ recording, stepSeconds }: Trace, { from, to }: StartRequest): boolean {
  for (let i = from; i < to - 1; i++)
    if (secondsBetween(recording, i, i + 1) > Math.max(5 * stepSeconds, P.requestLeastSeconds)) return true;
  return false;
}

/** The smaller of the fall after the request begins and the rise after it ends. */
function fallOf(trace: Trace, { from, to }: StartRequest, rest: RestLevel): number {
  const { recording } = trace;
  const { timeUs, volts, count } = recording;
  const [edge, span] = [P.requestEdgeSeconds * 1e6, P.requestLevelSeconds * 1e6];
  const lastUs = timeUs[to - 1]!;
  const middleUs = (timeUs[from]! + lastUs) / 2;
  const between = (fromUs: number, toUs: number) => {
    const first = Math.min(indexAt(recording, fromUs, from), count - 1);
    return windowMedian(volts, first, Math.min(count, Math.max(first + 1, indexAt(recording, toUs, first))));
  };
  const early = between(Math.min(timeUs[from]! + edge, middleUs), Math.min(timeUs[from]! + edge + span, lastUs));
  const fall = rest.volts - early;
  if (to >= count || timeUs[count - 1]! < lastUs + edge) return fall;
  const late = between(Math.max(lastUs - span, middleUs), lastUs - edge / 2);
  return Math.min(fall, between(lastUs + edge, lastUs + edge + span) - late);
}

/** Both windings for some tens of ms, then less: seen even where the hold-in is lost in the noise. */
function pullsIn(trace: Trace, { from, to }: StartRequest, rest: RestLevel): boolean {
  const { recording, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const span = Math.max(1, Math.round(P.pullInSeconds / stepSeconds));
  const least = Math.max(
    P.pullInVolts,
    (P.pullInNoises * rest.noiseVolts) / Math.sqrt(span),
    span > 1 ? rest.stepVolts : 1.6 * rest.stepVolts,
  );
  const until = Math.min(to - span, indexAt(recording, timeUs[from]! + 0.5e6, from));
  for (let i = from; i < until; i++) if (rest.volts - windowMedian(volts, i, i + span) >= least) return true;
  return false;
}

function firstUnder({ recording }: Trace, { from, to }: StartRequest, belowVolts: number): number {
  for (let i = from; i < to; i++) if (recording.volts[i]! < belowVolts) return i;
  return from;
}
