/**
 * Whether a fall is a starter's or some other load's. Deep as only a stalled motor's: a starter. Shallower: a starter if
 * the current fell as a motor's does while it gains speed, or if what follows is restless or ripples; a heater, lamps, a
 * lift or a blower do neither.
 */
import { passesCompressions } from './compressions-passed.ts';
import { isLaterInrush } from './later-inrush.ts';
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { isRestless } from './restless.ts';
import { rippleOf } from './ripple.ts';
import { windowMedian, windowStep } from './sorted-window.ts';
import { isAsked } from './start-request.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Deep enough for a starter, or with its ripple. */
export function isStarters(trace: Trace, phases: Phases, rest: RestLevel): boolean {
  const { recording, system, rateHz } = trace;
  const share = (rest.volts - recording.volts[phases.dip]!) / rest.volts;
  const rollingShare = (rest.volts - phases.rollingVolts) / rest.volts;
  if (phases.rollingVolts < T.deadShare * rest.volts) return false;
  if (rest.volts > T.runningVolts * system) return share >= T.runningShare && rollingShare >= T.rippleShare;
  const isLow = rollingShare >= T.rippleShare * 0.7 || isHeldDown(trace, phases, rest);
  if (share >= T.stalledShare && isLow) return true;
  const { onset: from, rollingTo: to } = phases;
  const enough = rateHz >= T.dipLeastHz ? T.crankShare : T.crankShareSlow;
  if (share >= enough && isLow && isRestless(trace, { from, to, rest })) return true;
  if (rateHz < T.dipLeastHz && isHeldLong(trace, phases, { share, rollingShare })) return true;
  if (isLow && (drawsInrush(trace, phases) || setsTurning(trace, phases))) return true;
  if (share < T.rippledShare) return false;
  if (startsEngine(trace, phases, rest.volts)) return true;
  if (hasRipple(trace, phases.rollingFrom, phases.rollingTo)) return true;
  // Few compressions may be some pump's, where requests are logged and there was none.
  return isLow && passesCompressions(trace, phases, rest) && isAsked(recording, from, phases.release) !== false;
}

/** As deep at first as a starter, then for long as deep as one that turns an engine: a heater draws no more at first. */
function isHeldLong(
  { recording }: Trace,
  { onset, release }: Phases,
  { share, rollingShare }: { share: number; rollingShare: number },
): boolean {
  const seconds = secondsBetween(recording, onset, Math.min(release, recording.count - 1));
  if (seconds < T.heldLeastSeconds || rollingShare < T.heldShareSlow) return false;
  return share >= T.crankShare && share >= T.heldInrushTimes * rollingShare;
}

/** By the current, where it is logged. */
function drawsInrush({ recording }: Trace, { onset, release }: Phases): boolean {
  const { amps } = recording;
  if (amps === null) return false;
  for (let i = onset; i < Math.min(release, recording.count); i++) if (amps[i]! >= T.motorPeakAmps) return true;
  return false;
}

/** By the logged speed: the engine stood, and turns from then on. */
function setsTurning({ recording }: Trace, { onset, release }: Phases): boolean {
  const { rpm, timeUs, count } = recording;
  if (rpm === null) return false;
  const before = indexAt(recording, timeUs[onset]! - T.standsSeconds * 1e6);
  for (let i = before; i <= onset; i++) if (rpm[i]! >= T.turnsLeastRpm) return false;
  // A controller tells a speed some tenths of a second late.
  const to = indexAt(recording, timeUs[Math.min(release, count - 1)]! + T.standsSeconds * 1e6, onset);
  for (let i = onset + 1; i < to; i++) if (rpm[i]! >= T.turnsLeastRpm) return true;
  return false;
}

/**
 * The engine runs: soon after release the voltage rises to charging, or so far over what the bank rested at that something
 * must charge it, without another fall before.
 */
export function startsEngine(
  { recording, system, stepSeconds }: Trace,
  { release, rollingVolts }: Phases,
  restVolts: number,
): boolean {
  const { volts, timeUs, count } = recording;
  if (release >= count) return false;
  const to = indexAt(recording, timeUs[release]! + T.chargesWithinSeconds * 1e6, release);
  const low = (restVolts + rollingVolts) / 2;
  const charging = Math.min(T.runningVolts, restVolts / system + T.chargedOverRestVolts) * system;
  // The step itself may take a few samples.
  for (let i = release + Math.max(2, Math.round(T.contactSeconds / stepSeconds)); i < to; i++) {
    if (volts[i]! < low) return false;
    if (volts[i]! > charging && windowMedian(volts, i, Math.min(count, i + 5)) > charging) return true;
  }
  return false;
}

/** What falls first is some load's, and the inrush comes while it is on. */
export function inrushFollows(trace: Trace, { dip, release, rollingVolts }: Phases, rest: RestLevel): boolean {
  const { recording } = trace;
  return isLaterInrush(trace, {
    from: dip + 1,
    to: release,
    restVolts: rest.volts,
    mostVolts: rest.volts - recording.volts[dip]!,
    heldVolts: rest.volts - rollingVolts,
  });
}

/** Low for long enough, even if the engine fired so soon that nothing rolled. */
function isHeldDown(trace: Trace, { onset, release }: Phases, rest: RestLevel): boolean {
  const { volts } = trace.recording;
  let low = 0;
  for (let i = onset; i < release; i++) if (volts[i]! < rest.volts * (1 - T.rippleShare)) low++;
  return low * trace.stepSeconds >= T.crankLeastSeconds;
}

/** Ripple that is more than the flicker of a coarse sensor between two steps. */
export function hasRipple({ recording, system }: Trace, from: number, to: number): boolean {
  const leastVolts = Math.max(T.rippleVolts * system, windowStep(recording.volts, from, to));
  return rippleOf(recording, { from, to, leastVolts }).why === 'ok';
}
