/**
 * Chatter: the solenoid pulls in, the voltage collapses under the inrush, the plunger drops out, the voltage recovers,
 * and so on, 3 to 15 times a second, until the key is let go. Told by pulses that each fall about as deep as the deepest
 * (the motor stands still each time) and between which nearly all comes back: ripple does neither, and a starter that
 * cranks between losses of contact holds it far longer.
 *
 * @example // 12.4 V; 7 V for 60 ms, 12.3 V for 90 ms, seven times: one row, chatter, six dropouts
 */
import { batteryColdTimes } from './cold.ts';
import type { FoundCrank } from './measured-row.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { lowest, onsetOf } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { medianOf, windowHigh, windowMedian, windowStep } from './sorted-window.ts';
import { isAsked } from './start-request.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Contact closed over samples [from, to). */
type Pulse = { from: number; to: number; dip: number };

/** The chatter whose first fall is at sample `first`; null where it is none. */
export function chatterAfter(trace: Trace, first: number, rest: RestLevel): FoundCrank | null {
  const { recording, system } = trace;
  if (rest.volts > T.runningVolts * system) return null;
  const watched = indexAt(recording, recording.timeUs[first]! + P.chatterWatchSeconds * 1e6, first);
  const heldVolts = windowHigh(recording.volts, first, Math.max(first + 1, watched));
  const watch = { first, watched, heldVolts, rest };
  const pulses = pulsesUnder(trace, watch, rest);
  if (pulses !== null) return foundFrom(trace, { first, rest, from: rest }, pulses);
  // Both windings may draw much between the pulses: then they fall from the level that those hold.
  const cold = Math.max(1, batteryColdTimes(recording.tempC?.[first] ?? Number.NaN));
  const drawn = rest.volts - heldVolts;
  if (heldVolts > rest.fallVolts || drawn > T.solenoidMostVolts * system * cold) return null;
  const held = { ...rest, volts: heldVolts };
  const later = pulsesUnder(trace, watch, held);
  return later === null ? null : foundFrom(trace, { first, rest, from: held }, later);
}

type Watch = { first: number; watched: number; heldVolts: number; rest: RestLevel };

function pulsesUnder(trace: Trace, { first, watched, heldVolts, rest }: Watch, from: RestLevel): Pulse[] | null {
  const { recording } = trace;
  const { volts } = recording;
  const deepest = from.volts - volts[lowest(volts, first, Math.max(first + 1, watched))]!;
  const least = Math.max(P.chatterLeastVolts, P.chatterNoises * rest.noiseVolts, P.chatterLeastSteps * rest.stepVolts);
  if (deepest < least) return null;
  // Pulls without inrush are small: a log that says nobody asked for a start, and a slow one of few, shows something else.
  const isShallow = deepest < T.rippleShare * rest.volts;
  const pulses = pulsesFrom(trace, { first, deepest, rest: from, pauseVolts: (rest.volts + heldVolts) / 2 });
  if (!isTrain(trace, pulses, { deepest, rest: from })) return null;
  if (!isShallow) return pulses;
  if (!rest.reportable) return null;
  // A rest that never moved does not show the sensor's step; the flicker itself does.
  if (deepest < P.chatterLeastSteps * windowStep(recording.volts, first, watched)) return null;
  if (trace.rateHz < T.dipLeastHz && pulses.length < P.chatterSlowPulses) return null;
  const isRefused = [pulses[0]!, pulses.at(-1)!].some(({ from, to }) => isAsked(recording, from, to) === false);
  return isRefused ? null : pulses;
}

type Levels = { first: number; rest: RestLevel; from: RestLevel };

function foundFrom(trace: Trace, levels: Levels, pulses: readonly Pulse[]): FoundCrank {
  const { recording } = trace;
  const { rest } = levels;
  const [begin, end] = [pulses[0]!, pulses.at(-1)!];
  const gaps = pulses.slice(1).map((pulse, index) => ({ from: pulses[index]!.to, to: pulse.from }));
  const release = end.to;
  return {
    phases: {
      onset: onsetIn(trace, levels, begin),
      dip: begin.dip,
      rollingFrom: release,
      rollingTo: release,
      release,
      released: release < recording.count,
      dropouts: gaps.length,
      dropoutSeconds: gaps.reduce((sum, gap) => sum + secondsBetween(recording, gap.from, gap.to), 0),
      losses: gaps,
      rollingVolts: recording.volts[begin.dip]!,
    },
    rest,
    until: recording.count,
    form: 'chatter',
  };
}

/**
 * The first inrush. A slow log may miss it, and some that follow: then the motor's contact closed a moment after the
 * windings began to draw, if they have drawn ever since.
 */
function onsetIn(trace: Trace, { first, rest, from }: Levels, { dip }: Pulse): number {
  const { volts } = trace.recording;
  const onset = Math.max(first, Math.min(onsetOf(trace, dip, from), dip));
  if (trace.rateHz >= T.dipLeastHz || onset <= first + 1) return onset;
  for (let i = first; i < onset; i++) if (volts[i]! > rest.fallVolts) return onset;
  return first + 1;
}

type Falls = { deepest: number; rest: RestLevel };

/** Falls beyond half of the deepest, each until most has come back, as long as they follow soon: later if the windings still draw. */
function pulsesFrom(
  { recording }: Trace,
  { first, deepest, rest, pauseVolts }: Falls & { first: number; pauseVolts: number },
): Pulse[] {
  const { volts, timeUs, count } = recording;
  const low = rest.volts - P.chatterLowShare * deepest;
  const high = rest.volts - P.chatterLeftShare * deepest;
  const pulses: Pulse[] = [];
  let open: Pulse | null = null;
  let lastUs = timeUs[first]!;
  for (let i = first; i < count; i++) {
    if (timeUs[i]! - timeUs[first]! > P.chatterMostSeconds * 1e6) break;
    const value = volts[i]!;
    const pauseSeconds = value < pauseVolts ? P.chatterHoldSeconds : T.dropoutSeconds;
    if (open === null && timeUs[i]! - lastUs > pauseSeconds * 1e6) break;
    if (open === null && value < low) pulses.push((open = { from: i, to: count, dip: i }));
    if (open === null) continue;
    if (value < volts[open.dip]!) open.dip = i;
    if (value < high) continue;
    open.to = i;
    open = null;
    lastUs = timeUs[i]!;
  }
  return pulses;
}

function isTrain({ recording, stepSeconds }: Trace, pulses: readonly Pulse[], { deepest, rest }: Falls): boolean {
  if (pulses.length < P.chatterLeastPulses) return false;
  const { volts } = recording;
  const closed = pulses.map(({ from, to }) => secondsBetween(recording, from, Math.min(to, recording.count - 1)));
  if (medianOf(closed) > P.chatterClosedSeconds || medianOf(closed) < P.chatterHeldSeconds) return false;
  const gaps = pulses.slice(1).map((pulse, index) => secondsBetween(recording, pulses[index]!.to, pulse.from));
  if (medianOf(gaps) < P.chatterHeldSeconds) return false;
  const hz = (pulses.length - 1) / secondsBetween(recording, pulses[0]!.from, pulses.at(-1)!.from);
  if (hz < P.chatterLeastHz || hz > P.chatterMostHz) return false;
  if (!fallsAtOnce(recording, pulses, { deepest, rest })) return false;
  // A log that samples a pulse once or twice seldom meets its bottom.
  const share = P.chatterPulseShare * (medianOf(closed) < 3 * stepSeconds ? 0.8 : 1);
  if (lowerQuarter(pulses.map(({ dip }) => rest.volts - volts[dip]!)) < share * deepest) return false;
  const top = medianOf(pulses.slice(1).map((pulse, index) => windowMedian(volts, pulses[index]!.to, pulse.from)));
  const swing = top - medianOf(pulses.map(({ dip }) => volts[dip]!));
  if (swing < Math.max(P.chatterSwingSteps * rest.stepVolts, P.chatterSwingNoises * rest.noiseVolts)) return false;
  return rest.volts - top <= P.chatterLeftShare * deepest;
}

/** An inrush takes a few ms from most of rest to half of its depth; a slow engine's ripple comes down gently. */
function fallsAtOnce(recording: Trace['recording'], pulses: readonly Pulse[], { deepest, rest }: Falls): boolean {
  const { volts, timeUs } = recording;
  const before = pulses.slice(1).map(({ from }) => {
    const at = Math.min(from - 1, indexAt(recording, timeUs[from]! - P.chatterFallSeconds * 1e6));
    return rest.volts - volts[Math.max(0, at)]!;
  });
  return (
    medianOf(before) <= P.chatterLeftShare * deepest &&
    medianOf(fallSeconds(recording, pulses, rest)) <= P.chatterDeepSeconds
  );
}

/** From the last sample at most of rest to the first near each pulse's bottom, less one sampling interval. */
function fallSeconds(recording: Trace['recording'], pulses: readonly Pulse[], rest: RestLevel): number[] {
  const { volts } = recording;
  return pulses.slice(1).map(({ from, dip }, index) => {
    const depth = rest.volts - volts[dip]!;
    let high = from;
    while (high > pulses[index]!.to && rest.volts - volts[high]! > P.chatterLeftShare * depth) high--;
    let deep = from;
    while (deep < dip && rest.volts - volts[deep]! < P.chatterDeepShare * depth) deep++;
    return secondsBetween(recording, Math.min(high + 1, deep), deep);
  });
}

function lowerQuarter(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 2]!;
}
