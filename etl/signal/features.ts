import type { MeasuredColumn } from '../model/crank.ts';
import { OUTCOMES, PATTERNS, qualityBit, SOURCES, type Pattern, type QualityWord } from '../model/words.ts';
import { compressionHeights } from './compression-peaks.ts';
import { clippedPhases } from './clipped.ts';
import { loggedCrankRpm } from './logged-speed.ts';
import type { Phases } from './phases.ts';
import { relativeCompression } from './relative-compression.ts';
import { inrushResistance } from './resistance.ts';
import type { RestLevel } from './rest-level.ts';
import { rippleOf, type Ripple } from './ripple.ts';
import { windowMedian, windowStep } from './sorted-window.ts';
import { isStalled } from './stalled.ts';
import { controlDropouts } from './control-dropouts.ts';
import { controlVoltsIn } from './start-request.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { timeMean } from './time-mean.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { isUnreadable, missingSeconds } from './unreadable.ts';

export type MeasuredRow = Record<MeasuredColumn, number>;

/** A crank that was found in a record, before its features are taken. `rest` is null where the record begins inside. */
export type FoundCrank = {
  phases: Phases;
  rest: RestLevel | null;
  /** The next crank of the record begins here (`count` if none): what is charged belongs to this one until then. */
  until: number;
  /** What its shape alone has shown it to be. */
  form?: Pattern;
};

const missing = Number.NaN;

/** A row with nothing known but when, at which rate and where. */
export function blankRow(trace: Trace, at: number): MeasuredRow {
  const { recording, rateHz } = trace;
  return {
    timeUs: recording.timeUs[at]!,
    source: SOURCES.indexOf('waveform'),
    restVolts: missing,
    dipVolts: missing,
    crankVolts: missing,
    chargeVolts: missing,
    crankSeconds: missing,
    rippleHz: missing,
    rippleOtherHz: missing,
    loggedRpm: missing,
    ampsPeak: missing,
    tempC: recording.tempC === null ? missing : windowMedian(recording.tempC, Math.max(0, at - 20), at + 1),
    dropouts: missing,
    dropoutSeconds: missing,
    outcome: missing,
    quality: 0,
    form: missing,
    rateHz,
    batteryOhms: missing,
    loopOhms: missing,
    crankAmps: missing,
    controlVolts: missing,
    controlDropouts: missing,
    relativeCompression: missing,
    line: recording.line[at]!,
  };
}

/** Every feature of a crank that its record can carry; the others stay missing, with the reason in `quality`. */
export function featuresOf(trace: Trace, crank: FoundCrank): MeasuredRow {
  const { recording, rateHz } = trace;
  const { phases, rest } = crank;
  const row = blankRow(trace, phases.onset);
  const words = new Set<QualityWord>();
  if (rest === null) words.add('begun_before_record');
  if (rest === null || !rest.reportable) words.add('no_rest');
  else row.restVolts = rest.volts;
  inrush(trace, crank, { row, words });
  rolling(trace, crank, { row, words });
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

type Filling = { row: MeasuredRow; words: Set<QualityWord> };

function inrush(trace: Trace, { phases, rest }: FoundCrank, { row, words }: Filling): void {
  if (rest === null) return;
  const { recording, rateHz } = trace;
  if (rateHz >= T.dipLeastHz) row.dipVolts = dipVolts(trace, phases, rest);
  else words.add('rate_too_low');
  const { ampsPeak, batteryOhms, loopOhms } = inrushResistance(recording, phases, rest.volts);
  row.ampsPeak = ampsPeak;
  if (rateHz >= T.dipLeastHz && rest.reportable) Object.assign(row, { batteryOhms, loopOhms });
}

/**
 * Lowest mean of up to 1.5 ms near the dip: of many samples the lowest is the noisiest. Of no more than the noise needs,
 * since a mean cuts the corner of a sharp dip. Up to 1 kHz, the lowest sample.
 */
function dipVolts({ recording, stepSeconds }: Trace, { onset, dip }: Phases, rest: RestLevel): number {
  const { volts, count } = recording;
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * rest.stepVolts);
  const needed = Math.floor(0.5 * (noise / T.dipNoiseVolts) ** 2);
  const half = Math.min(needed, Math.floor((0.5 * T.dipSeconds) / stepSeconds));
  const reach = half * T.dipReach;
  let least = Infinity;
  for (let i = Math.max(onset, dip - reach); i <= Math.min(dip + reach, count - 1 - half); i++) {
    let sum = 0;
    for (let j = i - half; j <= i + half; j++) sum += volts[j]!;
    least = Math.min(least, sum / (2 * half + 1));
  }
  return least === Infinity ? volts[dip]! : least;
}

/** What a sensor at its end has read is no voltage. */
function withoutClipped(trace: Trace, { phases, rest }: FoundCrank, { row, words }: Filling): void {
  const clipped = clippedPhases(trace, phases, rest);
  if (clipped.dip) Object.assign(row, { dipVolts: missing, batteryOhms: missing, loopOhms: missing });
  if (clipped.rolling) row.crankVolts = missing;
  if (clipped.dip || clipped.rolling) words.add('clipped');
}

function rolling(trace: Trace, crank: FoundCrank, { row, words }: Filling): void {
  const { recording } = trace;
  const { phases, rest } = crank;
  const { rollingFrom, rollingTo } = phases;
  row.dropouts = phases.dropouts;
  row.dropoutSeconds = phases.dropoutSeconds;
  if (rollingTo <= rollingFrom) {
    words.add('too_short');
    return;
  }
  row.crankVolts = timeMean(recording, recording.volts, { from: rollingFrom, to: rollingTo });
  if (recording.amps !== null)
    row.crankAmps = timeMean(recording, recording.amps, { from: rollingFrom, to: rollingTo });
  row.loggedRpm = loggedCrankRpm(recording, phases.onset, rollingTo);
  const ripple = ripplePart(trace, crank);
  const isShort = ripple.why === 'ok' && hidesCompressions(trace, phases, ripple.hz);
  row.rippleHz = isShort ? missing : ripple.hz;
  row.rippleOtherHz = isShort ? missing : ripple.otherHz;
  if (ripple.why !== 'ok') words.add(ripple.why);
  else if (isShort) words.add('too_short');
  else if (rest !== null && phases.dropouts === 0)
    row.relativeCompression = relativeCompression(
      compressionHeights(recording, {
        from: rollingFrom,
        to: rollingTo,
        rippleHz: ripple.hz,
        dip: phases.dip,
        restVolts: rest.volts,
      }),
    );
}

/**
 * The steep rise after the dip may have hidden a first compression: where what was seen to roll is not much longer, the
 * mean speed hangs on it.
 */
function hidesCompressions({ recording }: Trace, { dip, rollingFrom, rollingTo }: Phases, hz: number): boolean {
  const hidden = secondsBetween(recording, dip, rollingFrom);
  return hidden * hz > 1 && secondsBetween(recording, rollingFrom, rollingTo - 1) < T.hiddenTimes * hidden;
}

/** Ripple of the rolling phase; where it fades before the end, as an engine picks up gently, of three quarters of it. */
function ripplePart(trace: Trace, crank: FoundCrank): Ripple {
  const { recording, system } = trace;
  const { from, to } = longestHeld(trace, crank.phases);
  // Flicker of a coarse sensor between two steps is no ripple.
  const leastVolts = Math.max(T.rippleVolts * system * 0.75, T.rippleSteps * windowStep(recording.volts, from, to));
  const spinsUp = crank.rest !== null;
  const whole = rippleOf(recording, { from, to, leastVolts, spinsUp });
  if (whole.why !== 'no_ripple') return whole;
  const fades = from + Math.round(T.rippleFadesShare * (to - from));
  const part = rippleOf(recording, { from, to: fades, leastVolts, spinsUp });
  return part.why === 'ok' ? part : whole;
}

/** The rolling phase; where contact was lost, the longest stretch of it in which it was not, once it turns anew. */
function longestHeld({ recording }: Trace, { rollingFrom, rollingTo, losses }: Phases): { from: number; to: number } {
  const turnsAnew = (to: number) => indexAt(recording, recording.timeUs[to]! + T.spinUpSeconds * 1e6, to);
  const begins = [rollingFrom, ...losses.map(({ to }) => turnsAnew(to))];
  const ends = [...losses.map(({ from }) => from), rollingTo];
  return begins
    .map((from, i) => ({ from: Math.max(from, rollingFrom), to: Math.min(ends[i]!, rollingTo) }))
    .reduce((best, each) => (each.to - each.from > best.to - best.from ? each : best));
}

/** What the log alone shows it to be; null where it turned the engine, well or not, until release. */
function formOf(trace: Trace, { phases, rest, form }: FoundCrank, row: MeasuredRow): Pattern | null {
  if (isUnreadable(trace, phases, rest === null)) return 'unreadable';
  if (form === 'free_spin' && row.outcome === OUTCOMES.indexOf('started')) return null;
  if (form !== undefined) return form;
  if (phases.dropouts > 0) return 'dropout';
  const turned = !Number.isNaN(row.rippleHz) || !Number.isNaN(row.loggedRpm);
  return !turned && rest !== null && isStalled(trace, phases, rest) ? 'slow' : null;
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

/** Charging voltage and outcome, from what follows release. */
function after(trace: Trace, { phases, until }: FoundCrank, row: MeasuredRow): void {
  const { recording, system } = trace;
  const { timeUs, volts, rpm } = recording;
  const releaseUs = timeUs[phases.release]!;
  const from = Math.min(until, indexAt(recording, releaseUs + T.chargeFromSeconds * 1e6, phases.release));
  const to = Math.min(until, indexAt(recording, releaseUs + T.chargeToSeconds * 1e6, phases.release));
  if (to > from && secondsBetween(recording, from, to - 1) >= 1) row.chargeVolts = windowMedian(volts, from, to);
  const ran = (i: number) => volts[i]! > T.runningVolts * system || (rpm !== null && rpm[i]! > T.runningRpm);
  let running = 0;
  for (let i = phases.release; i < to; i++) if (ran(i)) running++;
  const watched = to > phases.release ? secondsBetween(recording, phases.release, to - 1) : 0;
  if (running * trace.stepSeconds > 0.5) row.outcome = OUTCOMES.indexOf('started');
  else if (watched >= T.failedAfterSeconds) row.outcome = OUTCOMES.indexOf('failed');
}

/** More than five intervals, and more than 50 ms, between two samples of the crank. */
function hasGap(trace: Trace, phases: Phases): boolean {
  return missingSeconds(trace, phases).longest > 0;
}
