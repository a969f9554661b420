/**
 * A motor that stands still: locked, jammed, or without the power to turn the engine. The fall is deep and stays: no
 * compressions move it, and no back-EMF brings any of it back, as it would within tenths of a second if anything turned.
 *
 * @example // 12.6 V, then 9.7 V at once, 9.6 V a second later, smooth: stalled.  9.7 V, after 0.3 s 10.8 V: not
 */
import { batteryColdTimes } from './cold.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { isRestless } from './restless.ts';
import { windowMedian } from './sorted-window.ts';
import { isAsked } from './start-request.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

type Held = Pick<Phases, 'onset' | 'release'>;

export function isStalled(trace: Trace, held: Held, rest: RestLevel): boolean {
  const share = drawsAsStalled(trace, held) ? T.rippleShare : P.stalledFallShare;
  return staysDown(trace, held, { rest, least: share * rest.volts });
}

/** By the current, where it is logged: no heater takes so much. */
function drawsAsStalled({ recording }: Trace, { onset, release }: Held): boolean {
  return recording.amps !== null && windowMedian(recording.amps, onset, release) >= P.stalledLeastAmps;
}

function staysDown(
  trace: Trace,
  { onset, release }: Held,
  { rest, least }: { rest: RestLevel; least: number },
): boolean {
  const { recording } = trace;
  const { volts, timeUs } = recording;
  const to = Math.min(release, recording.count) - 1;
  if (to <= onset || secondsBetween(recording, onset, to) < P.stalledLeastSeconds) return false;
  const [first, second] = P.stalledEarlySeconds.map((seconds) =>
    indexAt(recording, timeUs[onset]! + seconds * 1e6, onset),
  );
  const early = windowMedian(volts, Math.min(first!, to - 1), Math.max(second!, first! + 1));
  const late = windowMedian(volts, (onset + to) >> 1, to);
  if (rest.volts - late < least) return false;
  if (late - early > P.stalledGainShare * (rest.volts - early)) return false;
  return !isRestless(trace, { from: onset, to, rest });
}

/** Deeper than any heater on a battery so cold, and stalled: a starter, without ripple to show for it. */
export function isStalledStarter(trace: Trace, phases: Phases, rest: RestLevel): boolean {
  // An engine that is switched off falls too, and stays there.
  const { system } = trace;
  if (!phases.released || rest.volts > T.runningVolts * system) return false;
  if (isAsked(trace.recording, phases.onset, phases.release) === false) return false;
  // An empty battery is worn as well: on it any heater goes as deep.
  if (rest.volts < S.lowVolts * system) return false;
  if (drawsAsStalled(trace, phases)) return staysDown(trace, phases, { rest, least: T.rippleShare * rest.volts });
  // The current is known, and is a heater's.
  if (trace.recording.amps !== null) return false;
  const tempC = trace.recording.tempC?.[phases.onset] ?? Number.NaN;
  const cold = Math.max(1, batteryColdTimes(tempC));
  const least = Number.isNaN(tempC) ? P.heaterDeepestUnknownVolts : P.heaterDeepestVolts * cold;
  return staysDown(trace, phases, { rest, least });
}
