import { OUTCOMES, PATTERNS, qualityBit, type Pattern, type QualityWord } from '../model/words.ts';
import { controlDropouts } from './control-dropouts.ts';
import { fillInrush, withoutClipped } from './inrush-features.ts';
import { blankRow, type FoundCrank, type MeasuredRow } from './measured-row.ts';
import { phasesFrom, type Phases } from './phases.ts';
import { fillRolling } from './rolling-features.ts';
import { windowMedian } from './sorted-window.ts';
import { isStalled } from './stalled.ts';
import { controlVoltsIn } from './start-request.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { isUnreadable, missingSeconds } from './unreadable.ts';

/**
 * Every feature of a crank that its record can carry; the others stay missing, with the reason in `quality`. A motor that
 * seemed to spin free turned the engine after all if that started: it is read once more as a crank.
 */
export function featuresOf(trace: Trace, crank: FoundCrank): MeasuredRow {
  const row = measured(trace, crank);
  if (crank.form !== 'free_spin' || crank.rest === null || row.outcome !== OUTCOMES.indexOf('started')) return row;
  const { rest, until, phases } = crank;
  return measured(trace, { rest, until, phases: phasesFrom(trace, phases.onset, phases.dip, rest) });
}

function measured(trace: Trace, crank: FoundCrank): MeasuredRow {
  const { recording, rateHz } = trace;
  const { phases, rest } = crank;
  const row = blankRow(trace, phases.onset);
  const words = new Set<QualityWord>();
  if (rest === null) words.add('begun_before_record');
  if (rest === null || !rest.reportable) words.add('no_rest');
  else row.restVolts = restVolts(trace, phases.onset);
  fillInrush(trace, crank, { row, words });
  fillRolling(trace, crank, { row, words });
  withoutClipped(trace, crank, { row, words });
  if (phases.released) after(trace, crank, row);
  else words.add('ended_after_record');
  if (phases.released && rest !== null) row.crankSeconds = secondsBetween(recording, phases.onset, phases.release);
  if (hasGap(trace, phases)) words.add('gap');
  control(trace, crank, row);
  const form = formOf(trace, crank, row);
  if (form !== null) row.form = PATTERNS.indexOf(form);
  row.quality = [...words].reduce((bits, word) => bits + qualityBit(word), 0);
  row.rateHz = rateHz;
  return row;
}

/** Median of the second before the onset: a plunger's pull-in is too short to move it. */
function restVolts({ recording }: Trace, onset: number): number {
  const from = indexAt(recording, recording.timeUs[onset]! - T.restSeconds * 1e6);
  return windowMedian(recording.volts, from, Math.max(onset, from + 1));
}

/**
 * What the log alone shows it to be; null where it turned the engine, well or not, until release. `long` where the record
 * holds neither its end nor a start, and enough of it: whether it turned well is for the register to say.
 */
function formOf(trace: Trace, { phases, rest, form }: FoundCrank, row: MeasuredRow): Pattern | null {
  if (isUnreadable(trace, phases, rest === null)) return 'unreadable';
  if (form !== undefined) return form;
  if (phases.dropouts > 0) return 'dropout';
  const turned = !Number.isNaN(row.rippleHz) || !Number.isNaN(row.loggedRpm);
  if (!turned && rest !== null && isStalled(trace, phases, rest)) return 'slow';
  return isSeenLong(trace, phases, row) ? 'long' : null;
}

function isSeenLong({ recording }: Trace, { onset, release }: Phases, row: MeasuredRow): boolean {
  if (!Number.isNaN(row.crankSeconds) || row.outcome === OUTCOMES.indexOf('started')) return false;
  return secondsBetween(recording, onset, Math.min(release, recording.count - 1)) >= T.longSeconds;
}

/** What the control circuit did meanwhile, where it is logged. */
function control(
  trace: Trace,
  { phases: { onset, release, rollingFrom, rollingTo, losses }, rest }: FoundCrank,
  row: MeasuredRow,
): void {
  const { recording } = trace;
  // While the engine rolls, so that it can be held against the battery's volts of the same time.
  const span = rollingTo > rollingFrom ? { from: rollingFrom, to: rollingTo } : { from: onset, to: release };
  row.controlVolts = controlVoltsIn(recording, span.from, Math.min(span.to, recording.count));
  row.controlDropouts = controlDropouts(trace, losses, rest?.noiseVolts ?? 0);
}

/** An engine that was seen to run for so long has started. Program. */
const RUNNING_SECONDS = 0.3;

/**
 * A bank that has just been cranked lies under its rest, and under what a full one rests at (12.6 to 12.85 V, TM
 * 5-3805-262-20): over both by so much it is charged, however weakly. Program.
 */
const CHARGED_VOLTS = 12.95;

/** Charging voltage and outcome, from what follows release. */
function after(trace: Trace, { phases, until, rest }: FoundCrank, row: MeasuredRow): void {
  const { recording, system } = trace;
  const { timeUs, volts, rpm } = recording;
  const releaseUs = timeUs[phases.release]!;
  const from = Math.min(until, indexAt(recording, releaseUs + T.chargeFromSeconds * 1e6, phases.release));
  const to = Math.min(until, indexAt(recording, releaseUs + T.chargeToSeconds * 1e6, phases.release));
  if (to > from && secondsBetween(recording, from, to - 1) >= 1) row.chargeVolts = windowMedian(volts, from, to);
  const ran = (i: number) => volts[i]! > T.runningVolts * system || (rpm !== null && rpm[i]! > T.runningRpm);
  let running = 0;
  for (let i = phases.release; i < to && running * trace.stepSeconds <= RUNNING_SECONDS; i++) if (ran(i)) running++;
  const watched = to > phases.release ? secondsBetween(recording, phases.release, to - 1) : 0;
  const overRest = (rest?.volts ?? Infinity) + T.chargedOverRestVolts * system;
  if (running * trace.stepSeconds > RUNNING_SECONDS || row.chargeVolts > Math.max(CHARGED_VOLTS * system, overRest))
    row.outcome = OUTCOMES.indexOf('started');
  else if (watched >= T.failedAfterSeconds && running === 0 && !(row.chargeVolts > overRest))
    row.outcome = OUTCOMES.indexOf('failed');
}

/** More than five intervals, and more than 50 ms, between two samples of the crank. */
function hasGap(trace: Trace, phases: Phases): boolean {
  return missingSeconds(trace, phases).longest > 0;
}
