import { median } from 'd3-array';
import { MEASURED_COLUMNS } from '../model/crank.ts';
import { OUTCOMES, PATTERNS, qualityBit, SOURCES, type Pattern, type QualityWord } from '../model/words.ts';
import { pickUpOf, rollingRpm, type SpeedReadings } from './can-speed.ts';
import { CAN_THRESHOLDS as C } from './can-thresholds.ts';
import { nearestToBank, voltsRate, voltsWithin, type VoltReadings, type VoltsByPlace } from './can-volts.ts';
import type { MeasuredRow } from './measured-row.ts';
import { THRESHOLDS as T } from './thresholds.ts';

/** A crank as the bus tells it, while it is going on and until what is charged after it has been seen. */
export type CanCrank = {
  onsetUs: number;
  line: number;
  /** Told by the starter mode, at onset or later; else by speed alone. */
  byMode: boolean;
  /** The record begins inside. */
  begun: boolean;
  /** Speed readings around onset or release too far apart for a duration. */
  coarse: boolean;
  /** The engine was turning by itself when the starter went in. */
  wasRunning: boolean;
  /** The record ends, or breaks off, inside. */
  cut: boolean;
  releaseUs: number;
  /** First reading over running speed; NaN where none. */
  firedUs: number;
  dropouts: number;
  dropoutSeconds: number;
  /** Last reading of speed at or after release. */
  speedAfterUs: number;
  speed: SpeedReadings;
  volts: VoltsByPlace;
  /** Readings before this were taken while the engine ran. */
  ranUs: number;
  tempC: number;
};

const missing = Number.NaN;

/** A row of a bus log with nothing known but when and where. */
export function blankCanRow(timeUs: number, line: number): MeasuredRow {
  const row = Object.fromEntries(MEASURED_COLUMNS.map((name) => [name, missing])) as MeasuredRow;
  return { ...row, timeUs, line, source: SOURCES.indexOf('can'), quality: 0 };
}

/** Median of the readings before onset while the engine stood; NaN where none. */
export function restVoltsBefore({ us, volts }: VoltReadings, onsetUs: number, ranUs: number): number {
  const sinceUs = Math.max(onsetUs - C.restSeconds * 1e6, Number.isNaN(ranUs) ? -Infinity : ranUs + 1);
  return median(voltsWithin({ us, volts }, sinceUs, onsetUs)) ?? missing;
}

/**
 * The row of a crank. Volts once a second cannot resolve the inrush: the dip stays empty, and the cranking voltage is
 * the mean of the readings that fall into the rolling phase, if any do: unbiased, since they know nothing of the
 * compressions, but scattered by the ripple.
 */
export function canRow(crank: CanCrank): MeasuredRow {
  const row = blankCanRow(crank.onsetUs, crank.line);
  const volts = nearestToBank(crank.volts);
  const rollingUs = crank.onsetUs + T.rollingLatestSeconds * 1e6;
  const endUs = Number.isNaN(crank.firedUs) ? crank.releaseUs : Math.min(crank.firedUs, crank.releaseUs);
  const pickUpUs = pickUpOf(crank.speed, rollingUs, endUs);
  const words = new Set<QualityWord>(['rate_too_low']);
  if (!crank.begun) {
    row.restVolts = restVoltsBefore(volts, crank.onsetUs, crank.ranUs);
    if (Number.isNaN(row.restVolts)) words.add('no_rest');
    row.crankVolts = meanOf(voltsWithin(volts, rollingUs, pickUpUs));
    row.loggedRpm = rollingRpm(crank.speed, rollingUs, pickUpUs);
    if (!crank.cut && !crank.coarse) row.crankSeconds = (crank.releaseUs - crank.onsetUs) / 1e6;
  }
  row.outcome = outcomeOf(crank);
  if (row.outcome === STARTED) row.chargeVolts = chargeVolts(volts, crank.releaseUs);
  if (crank.byMode) [row.dropouts, row.dropoutSeconds] = [crank.dropouts, crank.dropoutSeconds];
  row.tempC = crank.tempC;
  row.rateHz = voltsRate(volts);
  const still = stillForm(crank, row, volts);
  if (still !== null) row.form = still === 'stalled' ? missing : PATTERNS.indexOf(still);
  if (still === 'stalled') row.loggedRpm = 0;
  if (crank.begun) words.add('begun_before_record');
  if (crank.cut) words.add('ended_after_record');
  if (crank.wasRunning) words.add('restarted_running');
  row.quality = [...words].reduce((bits, word) => bits + qualityBit(word), 0);
  return row;
}

const [STARTED, FAILED] = [OUTCOMES.indexOf('started'), OUTCOMES.indexOf('failed')];

function outcomeOf(crank: CanCrank): number {
  if (!Number.isNaN(crank.firedUs)) return STARTED;
  return !crank.cut && crank.speedAfterUs > crank.releaseUs ? FAILED : missing;
}

function chargeVolts(volts: VoltReadings, releaseUs: number): number {
  const within = voltsWithin(volts, releaseUs + T.chargeFromSeconds * 1e6, releaseUs + T.chargeToSeconds * 1e6);
  return median(within) ?? missing;
}

function meanOf(values: readonly number[]): number {
  return values.length === 0 ? missing : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/**
 * What held an engine that never moved although the starter was in, by the lowest volts meanwhile: a motor that drew
 * current and stalled (a speed of 0 that was measured), a solenoid alone, or, without volts, nothing that can be told.
 * Null where it moved, or where its speed is not known.
 */
function stillForm(crank: CanCrank, row: MeasuredRow, volts: VoltReadings): Pattern | 'stalled' | null {
  const { rpm } = crank.speed;
  if (!crank.byMode || crank.begun || rpm.length === 0 || rpm.some((value) => value >= C.stillRpm)) return null;
  const during = voltsWithin(volts, crank.onsetUs + T.rollingLatestSeconds * 1e6, crank.releaseUs);
  if (during.length === 0 || Number.isNaN(row.restVolts)) return 'unreadable';
  const system = row.restVolts > T.system24Volts ? 2 : 1;
  return row.restVolts - Math.min(...during) > T.solenoidMostVolts * system ? 'stalled' : 'solenoid_only';
}
