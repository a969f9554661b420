/**
 * Whether a fall is a starter's or some other load's. Deep as only a stalled motor's: a starter. Shallower: a starter if
 * the current fell as a motor's does while it gains speed, or if what follows is restless or ripples; a heater, lamps, a
 * lift or a blower do neither.
 */
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { isRestless } from './restless.ts';
import { rippleOf } from './ripple.ts';
import { windowMedian, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Deep enough for a starter, or with its ripple. */
export function isStarters(trace: Trace, phases: Phases, rest: RestLevel): boolean {
  const { recording, system, rateHz } = trace;
  const share = (rest.volts - recording.volts[phases.dip]!) / rest.volts;
  const rollingShare = (rest.volts - phases.rollingVolts) / rest.volts;
  if (phases.rollingVolts < T.deadShare * rest.volts) return false;
  if (rest.volts > T.runningVolts * system) return share >= T.runningShare && rollingShare >= T.rippleShare;
  const enough = rateHz >= T.dipLeastHz ? T.crankShare : T.crankShareSlow;
  const isLow = rollingShare >= T.rippleShare * 0.7 || isHeldDown(trace, phases, rest);
  const deep = rateHz >= T.dipLeastHz ? T.stalledShare : T.stalledShareSlow;
  if (share >= deep && isLow) return true;
  const { onset: from, rollingTo: to } = phases;
  if (share >= enough && isLow && (spinsUp(trace, phases, rest) || isRestless(trace, { from, to, rest }))) return true;
  return hasRipple(trace, phases.rollingFrom, phases.rollingTo);
}

/** A motor's current falls as it gains speed: soon after the dip much of the depth has come back. A heater's does not. */
function spinsUp(trace: Trace, { onset, dip, rollingTo }: Phases, rest: RestLevel): boolean {
  const { recording } = trace;
  const { volts, timeUs } = recording;
  const from = indexAt(recording, timeUs[onset]! + T.spinUpSeconds * 1e6, dip + 1);
  const to = Math.min(rollingTo, indexAt(recording, timeUs[onset]! + 2 * T.rollingLatestSeconds * 1e6, from));
  if (to - from < 2) return false;
  return windowMedian(volts, from, to) - volts[dip]! >= T.spinUpShare * (rest.volts - volts[dip]!);
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
