/** Why a crank points to a component: what was read, and what it is held against, in words that a foreman can check. */
import type { FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import { SUSPECTS, type Pattern, type Suspect } from '../model/words.ts';
import { batteryColdTimes } from './cold.ts';
import { readingsOf, type CrankReadings } from './crank-readings.ts';
import { OwnBaseline, type Usual } from './own-baseline.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';

/** Lines for each row of a table whose suspects stand; none for a crank that points to nothing. */
export function suspectEvidence(table: FinishedTable, unit: Unit | null): string[][] {
  const baseline = new OwnBaseline();
  return Array.from({ length: table.count }, (_, index) => {
    const crank = readingsOf(table, index, unit);
    const suspect = SUSPECTS[table.columns.suspect[index]!] ?? null;
    if (suspect !== null) return linesFor(crank, baseline.usual(table, index), suspect);
    if (crank.pattern === 'steady') baseline.add(table, index, crank);
    return [];
  });
}

function linesFor(crank: CrankReadings, usual: Usual, suspect: Suspect): string[] {
  const lines = [whatHappened(crank), whyChatter(crank, suspect), ...numbers(crank, usual), ...undecided(suspect)];
  return lines.filter((line) => line !== null);
}

const HAPPENED: Partial<Record<Pattern, string>> = {
  no_response: 'start requested, nothing drew current',
  free_spin: 'the motor ran without load: drive clutch or pinion does not take the engine along',
  chatter: 'the solenoid dropped out and pulled in again and again',
  solenoid_only: 'the solenoid pulled in, the motor drew nothing',
  slow: 'the starter turned the engine slowly, or not at all',
};

function whatHappened(crank: CrankReadings): string | null {
  if (crank.pattern === 'dropout') return ofDropouts(crank);
  return crank.pattern === null ? null : (HAPPENED[crank.pattern] ?? null);
}

function whyChatter({ pattern }: CrankReadings, suspect: Suspect): string | null {
  if (pattern !== 'chatter') return null;
  if (suspect === 'control') return 'the control was gone each time, or most times';
  return suspect === 'starter' ? 'battery and cables are in order: its hold-in winding lets go by itself' : null;
}

function ofDropouts({ dropouts, controlDropouts }: CrankReadings): string {
  const lost = `contact lost ${dropouts} ${dropouts === 1 ? 'time' : 'times'} while cranking`;
  if (Number.isNaN(controlDropouts)) return `${lost}; nothing logged tells whether the control was lost too`;
  if (controlDropouts === 0) return `${lost}, the control held meanwhile`;
  return `${lost}, ${controlDropouts} of them with the control gone too`;
}

function numbers(crank: CrankReadings, usual: Usual): (string | null)[] {
  const cold = batteryColdTimes(crank.tempC);
  const at = Number.isNaN(crank.tempC) ? '' : ` at ${crank.tempC.toFixed(0)} °C`;
  return [
    crank.restVolts < S.lowVolts ? `${crank.restVolts.toFixed(2)} V for 12 V at rest: a quarter charged or less` : null,
    Number.isNaN(crank.controlVolts) ? null : `${crank.controlVolts.toFixed(1)} V for 12 V at the control terminal`,
    crank.batteryTimes >= S.wornTimes
      ? `battery ${(1000 * crank.batteryOhms).toFixed(1)} mΩ, ${crank.batteryTimes.toFixed(1)} times a healthy one${at}`
      : null,
    crank.loopTimes >= S.loopTimes
      ? `starter and cables ${(1000 * crank.loopOhms).toFixed(1)} mΩ, ${crank.loopTimes.toFixed(1)} times the usual`
      : null,
    crank.crankAmps > 0 && crank.pattern === 'slow' ? `${crank.crankAmps.toFixed(0)} A while cranking` : null,
    Number.isNaN(crank.sagRatio) ? null : sagLine(crank.sagRatio * cold, usual.sagRatio * cold, at),
    Number.isNaN(crank.crankVolts) ? null : `${crank.crankVolts.toFixed(1)} V for 12 V while cranking`,
  ];
}

function sagLine(sagRatio: number, usual: number, at: string): string {
  const against = Number.isNaN(usual)
    ? '0.5 to 1.2 is healthy when warm'
    : `${usual.toFixed(2)} is usual for this engine${at}`;
  return `sag ratio ${sagRatio.toFixed(2)}, ${against}`;
}

function undecided(suspect: Suspect): string[] {
  return suspect === 'starter_loop' ? ['volts at the battery alone do not tell the starter from its cables'] : [];
}
