import type { FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import { OUTCOMES, PATTERNS, type Pattern } from '../model/words.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { CRANKING_VOLTS_LEAST, SLOW_RPM, THRESHOLDS as T } from './thresholds.ts';

const STARTED = OUTCOMES.indexOf('started');
const FAILED = OUTCOMES.indexOf('failed');
const LONG = PATTERNS.indexOf('long');

/** Index in PATTERNS: what the log alone has decided, else slow, long or steady by speed, volts and time. */
export function patternOf(columns: FinishedTable['columns'], index: number, unit: Unit | null): number {
  const form = columns.form[index]!;
  if (!Number.isNaN(form) && form !== LONG) return form;
  return PATTERNS.indexOf(turning(columns, index, unit));
}

function turning(columns: FinishedTable['columns'], index: number, unit: Unit | null): Pattern {
  const tempC = columns.tempC[index]!;
  const system = columns.restVolts[index]! > T.system24Volts || unit?.systemVolts === 24 ? 24 : 12;
  if (columns.crankVolts[index]! < leastCrankingVolts(tempC, system)) return 'slow';
  if (isSlow(columns, index, { unit, system })) return 'slow';
  const seconds = columns.crankSeconds[index]!;
  const failed = columns.outcome[index] === FAILED;
  if (columns.form[index] === LONG) return 'long';
  if (seconds >= T.longSeconds || (failed && seconds >= T.longFailedSeconds)) return 'long';
  return 'steady';
}

/**
 * Slow by speed; where that is not far above the limit, or not known, by how far the motor spun up: its own voltage over
 * the battery's is 1 − (rest − cranking)/(rest − dip) (equation), whatever the resistances.
 */
function isSlow(
  columns: FinishedTable['columns'],
  index: number,
  { unit, system }: { unit: Unit | null; system: 12 | 24 },
): boolean {
  const slowRpm = slowBelowRpm(columns.tempC[index]!, unit);
  const rpm = columns.crankRpm[index]!;
  if (rpm < slowRpm.least) return true;
  if (rpm > P.surelyTurnsTimes * slowRpm.most && slowRpm.most > 0) return false;
  const [rest, dip] = [restOrTypical(columns.restVolts[index]!, unit), columns.dipVolts[index]!];
  const current = (rest - columns.crankVolts[index]!) / (rest - dip);
  const tempC = columns.tempC[index]!;
  const cold = Number.isNaN(tempC) ? P.slowCurrentUnknown : P.slowCurrentPerC * Math.max(0, SLOW_RPM.warmC - tempC);
  return current > P.slowCurrentShare + missedDip(columns, index, system) + cold;
}

/**
 * A log meets less of the dip, the less the further its samples lie apart: the share reads higher by so much. Below 40 Hz
 * it says little alone, so two more are asked. An engine that fired soon speaks against it: one that hardly turns takes
 * longer. And so do volts over what cranking leaves at this temperature; under it they speak for it.
 */
function missedDip(columns: FinishedTable['columns'], index: number, system: 12 | 24): number {
  const rateHz = columns.rateHz[index]!;
  if (Number.isNaN(rateHz)) return 0;
  if (rateHz >= T.dipLeastHz) return (P.smoothedDipSeconds * rateHz) ** -2;
  const firedSoon = columns.outcome[index] === STARTED && columns.crankSeconds[index]! < P.firedSoonSeconds;
  const volts = (columns.crankVolts[index]! * 12) / system - limitVolts(columns.tempC[index]!);
  const byVolts = Math.max(-P.voltsMostShare, Math.min(P.voltsMostShare, P.sharePerVolt * volts));
  return P.missedDipShare + P.missedDipSharePerSecond / rateHz + (firedSoon ? P.firedSoonShare : 0) + byVolts;
}

/** Volts of a 12 V bank that tell its fault from one in the circuit while cranking, by temperature. */
function limitVolts(tempC: number): number {
  const knownC = Number.isNaN(tempC) ? P.unknownTempC : tempC;
  return P.limitVolts - P.limitVoltsPerC * Math.max(0, SLOW_RPM.warmC - knownC);
}

/** A record that a trigger began shows no rest: a typical one is taken to judge by. */
function restOrTypical(restVolts: number, unit: Unit | null): number {
  if (!Number.isNaN(restVolts) || unit === null) return restVolts;
  return (T.typicalRestVolts * unit.systemVolts) / 12;
}

/** Volts under which cranking is slow, by temperature; the coldest row where no temperature is known. */
export function leastCrankingVolts(tempC: number, system: 12 | 24): number {
  const row = CRANKING_VOLTS_LEAST.find(({ fromC }) => tempC >= fromC) ?? CRANKING_VOLTS_LEAST.at(-1)!;
  return system === 24 ? row.volts24 : row.volts12;
}

type SpeedLimit = { least: number; most: number };

/** Speed under which cranking is slow, by temperature; where none is known it lies between the two. 0 for an unknown engine. */
function slowBelowRpm(tempC: number, unit: Unit | null): SpeedLimit {
  if (unit === null) return { least: 0, most: 0 };
  const { warm, cold } = unit.systemVolts === 24 ? SLOW_RPM.heavy : SLOW_RPM.light;
  const isUnknown = Number.isNaN(tempC);
  const share = ((isUnknown ? P.unknownTempC : tempC) - SLOW_RPM.coldC) / (SLOW_RPM.warmC - SLOW_RPM.coldC);
  const limit = cold + (warm - cold) * Math.max(0, Math.min(1, share));
  return { least: limit, most: isUnknown ? warm : limit };
}
