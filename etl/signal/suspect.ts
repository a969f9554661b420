/**
 * The component that one crank alone points to, by Ohm's law and no-start diagnosis as taught (TM 5-3895-383-24 p. 6-96,
 * TM 10-3930-671-24 F-299), with the engine's own earlier cranks as the measure where there are enough. NaN, none, where
 * it turned as it should, where the cold or a weak cylinder explains it, or where nothing was logged that tells.
 */
import type { FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import { SUSPECTS, type Suspect } from '../model/words.ts';
import { readingsOf, type CrankReadings } from './crank-readings.ts';
import { nearestFault } from './nearest-fault.ts';
import { OwnBaseline, type Usual } from './own-baseline.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';

/** Fills the column `suspect` of a table whose patterns stand. */
export function fillSuspects(table: FinishedTable, unit: Unit | null): void {
  const baseline = new OwnBaseline();
  for (let index = 0; index < table.count; index++) {
    const readings = readingsOf(table, index, unit);
    const suspect = suspectOf(readings, baseline.usual(table, index));
    table.columns.suspect[index] = suspect === null ? Number.NaN : SUSPECTS.indexOf(suspect);
    if (readings.pattern === 'steady' && suspect === null) baseline.add(table, index, readings);
  }
}

export function suspectOf(crank: CrankReadings, usual: Usual): Suspect | null {
  switch (crank.pattern) {
    case 'no_response':
      return isControlLive(crank) ? 'starter' : 'control';
    case 'free_spin':
      return 'starter';
    case 'chatter':
      return ofChatter(crank, usual);
    case 'solenoid_only':
      return crank.restVolts < S.flatVolts ? 'battery' : 'starter';
    case 'dropout':
      return isControlLost(crank) ? 'control' : starterOrLoop(crank);
    case 'slow':
      return ofSlow(crank, usual);
    case 'steady':
    case 'long':
      return isWorn(crank, usual) ? 'battery' : null;
    case 'unreadable':
    case 'preheat':
    case null:
      return null;
  }
}

/** Battery volts at the control terminal, while nothing turns: starter or solenoid. None there, or none logged: upstream. */
function isControlLive({ controlVolts, restVolts }: CrankReadings): boolean {
  return controlVolts >= S.controlLiveShare * (Number.isNaN(restVolts) ? 12 : restVolts);
}

function isControlLost({ dropouts, controlDropouts }: CrankReadings): boolean {
  return dropouts > 0 && controlDropouts * 2 >= dropouts;
}

/** Where nothing but the battery's volts is logged the starter and its cables are one. */
function starterOrLoop({ ampsPeak, controlVolts }: CrankReadings): Suspect {
  return Number.isNaN(ampsPeak) && Number.isNaN(controlVolts) ? 'starter_loop' : 'starter';
}

/**
 * The hold-in drops out: the control lets it go, the bank collapses, or the way to the starter loses what the bank still
 * holds. A bank that current shows to be sound and a way that lets the motor have its current leave the winding itself.
 */
function ofChatter(crank: CrankReadings, usual: Usual): Suspect {
  const { restVolts, sagRatio, batteryTimes } = crank;
  if (isControlLost(crank)) return 'control';
  if (restVolts < S.flatVolts || batteryTimes >= S.wornTimes) return 'battery';
  const isSound = batteryTimes < S.wornTimes;
  const healthy = Number.isNaN(usual.sagRatio) ? S.chatterSag : S.chatterOwnTimes * usual.sagRatio;
  if (!isSound && sagRatio > healthy) return 'battery';
  // Resistance inside the motor would take current from the bank and leave the solenoid its volts.
  const isStarved = Number.isNaN(sagRatio) || sagRatio < S.chatterCableSag;
  if (!isSound && !isStarved && restVolts < S.lowVolts) return 'battery';
  const part = starterOrLoop(crank);
  return isStarved && part === 'starter' ? 'cables' : part;
}

function ofSlow(crank: CrankReadings, usual: Usual): Suspect | null {
  if (crank.relativeCompression <= S.weakCylinder) return null;
  if (crank.restVolts < S.flatVolts) return 'battery';
  const fault = nearestFault(crank, usual);
  if (fault === 'battery') return 'battery';
  // What the control terminal lacks of the battery's volts while the motor draws is lost in the cables both share.
  const lost = crank.crankVolts - crank.controlVolts;
  if (lost > S.controlDropVolts) return 'cables';
  if (fault === 'starter_loop') return inLoop(lost, crank);
  // Cables lose no more for a starter that drags: where more than the bank's volts is logged it is the starter's own.
  // In the cold it is the oil that drags.
  if (fault === 'drag' && crank.tempC >= S.coldC) return starterOrLoop(crank);
  return null;
}

/**
 * Starter or cables. Where current is logged, little of it at good volts is circuit resistance (TM 10-3930-671-24): the
 * cables are measured first.
 */
function inLoop(lost: number, { crankAmps }: CrankReadings): Suspect {
  if (lost < S.controlGoodVolts) return 'starter';
  return Number.isNaN(crankAmps) ? 'starter_loop' : 'cables';
}

/** It still turned, but its battery would fail the load test, or sags far more than it used to. */
function isWorn(crank: CrankReadings, usual: Usual): boolean {
  if (crank.batteryTimes >= S.failsTimes) return true;
  // The current shows a sound bank: it sags more in the cold, or the sample met more of the dip than others did.
  if (crank.batteryTimes < S.wornTimes) return false;
  const cold = Number.isNaN(crank.tempC) ? S.ownColdTimes : 1;
  return crank.sagRatio >= cold * S.ownWornTimes * usual.sagRatio;
}
