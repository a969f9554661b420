/**
 * Free spin: the motor whirrs and the engine does not turn (drive clutch, pinion). An inrush, then within a moment the
 * small even current of no load, until the key is let go: at most 90 A where the stalled motor took 780 to 980 A (common
 * bench values), with no compressions in it.
 *
 * @example // 12.6 V, inrush to 8 V, after 0.12 s level at 12.1 V for 1.5 s, then 12.6 V: free_spin
 */
import type { FoundCrank } from './measured-row.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import type { RestLevel } from './rest-level.ts';
import { isRestless } from './restless.ts';
import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { isAsked } from './start-request.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** By how much of the inrush a log shows: shares of rest and of the inrush. */
const FAST = { inrush: P.spinInrushShare, early: P.spinEarlyShare, left: P.spinShare } as const;
const SLOW = { inrush: P.spinInrushShareSlow, early: P.spinEarlyShareSlow, left: P.spinShareSlow } as const;

type Fall = { onset: number; dip: number; rest: RestLevel };

/** The free spin whose inrush begins at `onset`; null where it is none. */
export function freeSpinAfter(trace: Trace, { onset, dip, rest }: Fall): FoundCrank | null {
  const { recording, system, rateHz } = trace;
  const { volts, timeUs, count } = recording;
  if (rest.volts > T.runningVolts * system) return null;
  const inrush = rest.volts - volts[dip]!;
  const limits = rateHz < T.dipLeastHz ? SLOW : FAST;
  if (inrush < limits.inrush * rest.volts) return null;
  const from = indexAt(recording, timeUs[onset]! + P.spinUpSeconds * 1e6, onset);
  const probe = Math.max(from + 3, indexAt(recording, timeUs[from]! + P.spinLeastSeconds * 1e6, from));
  if (probe >= count) return null;
  const left = rest.volts - windowMedian(volts, from, probe);
  if (left > Math.min(limits.early * inrush, P.spinEarlyMostVolts * system)) return null;
  if (left < Math.max(2 * rest.noiseVolts, P.holdLeastVolts)) return null;
  const release = endOf(trace, from, rest.volts);
  if (secondsBetween(recording, from, Math.min(release, count - 1)) < P.spinLeastSeconds) return null;
  const to = release - Math.max(1, Math.round(T.contactSeconds / trace.stepSeconds));
  const level = windowMedian(volts, Math.max(from, (from + to) >> 1), Math.max(to, from + 1));
  if (rest.volts - level > Math.min(limits.left * inrush, P.spinMostVolts * system)) return null;
  if (inrush < P.spinSurelyShare * rest.volts && !isMotors(trace, { onset, release, fall: rest.volts - level }, rest))
    return null;
  if (!isEven(trace, { onset, from, to }, { inrush, rest })) return null;
  // No compression comes: its volts are asked for from the latest moment at which one may.
  const latest = indexAt(recording, timeUs[onset]! + T.rollingLatestSeconds * 1e6, onset);
  const rolling = { rollingFrom: Math.min(latest, release), rollingTo: release, rollingVolts: level };
  const contact = { release, released: release < count, dropouts: 0, dropoutSeconds: 0, losses: [] };
  return { phases: { onset, dip, ...rolling, ...contact }, rest, until: count, form: 'free_spin' };
}

/** More than lamps draw, for no longer than a key is held, and asked for where requests are logged. */
function isMotors(
  { recording }: Trace,
  { onset, release, fall }: Record<'onset' | 'release' | 'fall', number>,
  rest: RestLevel,
) {
  const seconds = secondsBetween(recording, onset, Math.min(release, recording.count - 1));
  if (fall < P.spinLeftShare * rest.volts || seconds > T.keyMostSeconds) return false;
  return isAsked(recording, onset, Math.min(release, recording.count)) !== false;
}

/**
 * First sample from which half of the no-load fall, as it is by then, has come back for good: at once, as contacts part;
 * a motor that still comes up wins as much by and by. Without such a step the first sample that is back at all.
 */
function endOf({ recording, stepSeconds }: Trace, from: number, restVolts: number): number {
  const { volts, timeUs, count } = recording;
  const span = Math.max(1, Math.round(P.spinBackSeconds / stepSeconds));
  let level = Number.NaN;
  let renewUs = -Infinity;
  let first = count;
  for (let i = from; i < count; i++) {
    if (timeUs[i]! >= renewUs) {
      level = windowMedian(volts, indexAt(recording, timeUs[i]! - P.spinLeastSeconds * 1e6), i + 1);
      renewUs = timeUs[i]! + P.spinLeastSeconds * 1e6;
    }
    const back = (restVolts + level) / 2;
    if (volts[i]! < back) continue;
    const after = windowMedian(volts, i, Math.min(count, i + span));
    if (after < back) continue;
    first = Math.min(first, i);
    const before = windowMedian(volts, Math.max(0, i - span), i);
    if (after - before >= P.spinStepShare * (restVolts - before)) return i;
    if (secondsBetween(recording, first, i) > P.spinComesUpSeconds) return first;
  }
  return first;
}

type Size = { inrush: number; rest: RestLevel };

/** No compressions: what moves is a motor that comes up along a curve, a slow sinking of the bank, and noise. */
function isEven(
  trace: Trace,
  { onset, from, to }: Record<'onset' | 'from' | 'to', number>,
  { inrush, rest }: Size,
): boolean {
  const { volts } = trace.recording;
  if (!isRestless(trace, { from: onset, to, rest })) return true;
  const moves = windowNoise(volts, from, to, windowMedian(volts, from, to));
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * Math.max(rest.stepVolts, windowStep(volts, from, to)));
  return moves <= Math.max(P.spinRippleShare * inrush, P.spinRippleNoises * noise);
}
