/** What one crank says of its circuit, brought to 12 V and 25 °C, so that units and seasons can be compared. */
import type { FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import { OUTCOMES, PATTERNS, type Pattern } from '../model/words.ts';
import { batteryColdTimes, frictionTimes } from './cold.ts';
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';

/** NaN is missing; an unknown rest is assumed for what hangs on it. Volts are of a 12 V system. */
export type CrankReadings = {
  pattern: Pattern | null;
  started: boolean;
  tempC: number;
  restVolts: number;
  crankVolts: number;
  /** Rest less cranking. */
  crankFall: number;
  /** (rest − dip) / dip as a battery at 25 °C would give it. */
  sagRatio: number;
  /** Cranking over stalled current, (rest − cranking) / (rest − dip): 1 where the motor hardly turns. */
  currentShare: number;
  /** Crank fall over the usual one for this temperature. */
  fallTimes: number;
  /** By current: over what is healthy for the unit's CCA at this temperature. */
  batteryTimes: number;
  loopTimes: number;
  ampsTimes: number;
  batteryOhms: number;
  loopOhms: number;
  ampsPeak: number;
  crankAmps: number;
  controlVolts: number;
  dropouts: number;
  controlDropouts: number;
  relativeCompression: number;
  /** The dip lies between the samples: sag ratio and loop are what was met of it. */
  missesDip: boolean;
};

export function readingsOf({ columns }: FinishedTable, index: number, unit: Unit | null): CrankReadings {
  const value = (name: keyof typeof columns) => columns[name][index]!;
  const rest = value('restVolts');
  const system = rest > T.system24Volts || (Number.isNaN(rest) && unit?.systemVolts === 24) ? 2 : 1;
  const tempC = value('tempC');
  const cold = batteryColdTimes(tempC);
  const assumed = Number.isNaN(rest) ? T.typicalRestVolts * system : rest;
  const crankFall = (assumed - value('crankVolts')) / system;
  const dip = value('dipVolts');
  const cca = unit?.batteryCcaA ?? Number.NaN;
  const healthyOhms = (S.healthyOhmsCca * system) / cca;
  const crankAmps = value('crankAmps');
  const byRolling = crankAmps > 50 ? (rest - value('crankVolts')) / crankAmps : Number.NaN;
  const batteryOhms = Number.isNaN(value('batteryOhms')) ? byRolling : value('batteryOhms');
  return {
    pattern: PATTERNS[value('pattern')] ?? null,
    started: value('outcome') === OUTCOMES.indexOf('started'),
    tempC,
    restVolts: rest / system,
    crankVolts: value('crankVolts') / system,
    crankFall,
    sagRatio: (assumed - dip) / dip / cold,
    currentShare: (assumed - value('crankVolts')) / (assumed - dip),
    fallTimes: crankFall / (S.crankFallVolts * cold * frictionTimes(tempC)),
    batteryTimes: batteryOhms / (healthyOhms * cold),
    loopTimes: value('loopOhms') / (healthyOhms * S.loopOverBattery),
    ampsTimes: crankAmps / (cca * S.ampsOverCca * frictionTimes(tempC)),
    batteryOhms,
    loopOhms: value('loopOhms'),
    ampsPeak: value('ampsPeak'),
    crankAmps,
    controlVolts: value('controlVolts') / system,
    dropouts: value('dropouts'),
    controlDropouts: value('controlDropouts'),
    relativeCompression: value('relativeCompression'),
    missesDip: value('rateHz') < T.dipLeastHz,
  };
}
