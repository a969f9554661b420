/**
 * When the start is asked for: the logged request, or where none is logged the solenoid's control terminal being live.
 * Both may be logged more sparsely than volts; a value holds until the next one, at most a second.
 */
import type { Recording } from '../model/samples.ts';
import { PATTERN_THRESHOLDS as T } from './pattern-thresholds.ts';
import { windowMedian } from './sorted-window.ts';
import { secondsBetween } from './time-window.ts';

/** Samples [from, to) in which the start is asked for without a pause. */
export type StartRequest = { from: number; to: number };

/** 1 where asked for, 0 where not, NaN where neither channel says so. */
type Asked = (at: number) => number;

/** Every request of a record, in order; a bounce is no pause. */
export function startRequests(recording: Recording): StartRequest[] {
  const asked = askedIn(recording);
  const found: StartRequest[] = [];
  if (asked === null) return found;
  let from = -1;
  for (let i = 0; i <= recording.count; i++) {
    const now = i < recording.count && asked(i) === 1;
    if (now && from < 0) from = i;
    if (now || from < 0) continue;
    const last = found.at(-1);
    if (last !== undefined && secondsBetween(recording, last.to - 1, from) <= T.requestGapSeconds) last.to = i;
    else found.push({ from, to: i });
    from = -1;
  }
  return found;
}

/** Whether the start was asked for at all in [from, to): null where no channel says so, or none says it just then. */
export function isAsked(recording: Recording, from: number, to: number): boolean | null {
  const asked = askedIn(recording);
  if (asked === null) return null;
  let isKnown = false;
  for (let i = from; i < to; i++) {
    const now = asked(i);
    if (now === 1) return true;
    isKnown ||= now === 0;
  }
  return isKnown ? false : null;
}

/** Whether request or control terminal was off for a good part of samples [from, to), as a lost contact's cause is. */
export function isControlGone(recording: Recording, from: number, to: number): boolean {
  const { startRequest, controlVolts } = recording;
  const gone = [heldRequest(recording), liveControl(recording)].map((asked, channel) => {
    if ((channel === 0 ? startRequest : controlVolts) === null || asked === null) return 0;
    let off = 0;
    for (let i = from; i < to; i++) if (asked(i) === 0) off++;
    return off / Math.max(1, to - from);
  });
  return Math.max(...gone) >= T.controlGoneShare;
}

/** Median volts at the control terminal while the start is held within [from, to); NaN where it is not logged. */
export function controlVoltsIn(recording: Recording, from: number, to: number): number {
  const { controlVolts, startRequest } = recording;
  if (controlVolts === null || to <= from) return Number.NaN;
  const asked = startRequest === null ? null : heldRequest(recording);
  const first = asked === null ? from : nextWhere(asked, from, to, 1);
  // The request may be logged later than the terminal: then the whole stretch speaks.
  return first < to ? windowMedian(controlVolts, first, to) : windowMedian(controlVolts, from, to);
}

function nextWhere(asked: Asked, from: number, to: number, value: number): number {
  let at = from;
  while (at < to && asked(at) !== value) at++;
  return at;
}

function askedIn(recording: Recording): Asked | null {
  return heldRequest(recording) ?? liveControl(recording);
}

function heldRequest(recording: Recording): Asked | null {
  const { startRequest } = recording;
  if (startRequest === null) return null;
  return lastKnown(recording, startRequest, (value) => (value >= 0.5 ? 1 : 0));
}

function liveControl(recording: Recording): Asked | null {
  const { controlVolts, volts } = recording;
  if (controlVolts === null) return null;
  return lastKnown(recording, controlVolts, (value, at) => (value > T.controlLiveShare * volts[at]! ? 1 : 0));
}

/** Looks back only over samples that it has not looked at yet: asked in rising order it takes one step a sample. */
function lastKnown(recording: Recording, values: Float64Array, read: (value: number, at: number) => number): Asked {
  const { timeUs } = recording;
  let known = -1;
  let seenTo = -1;
  return (at) => {
    const stop = at >= seenTo ? seenTo : -1;
    let back = at;
    while (back > stop && Number.isNaN(values[back]!)) back--;
    if (back > stop) known = back;
    else if (at < seenTo) known = -1;
    seenTo = at;
    if (known < 0 || timeUs[at]! - timeUs[known]! > T.requestHeldSeconds * 1e6) return Number.NaN;
    return read(values[known]!, at);
  };
}
