/** What a record shows of one crank: its columns, and the crank as it was found, before its features are taken. */
import type { MeasuredColumn } from '../model/crank.ts';
import { SOURCES, type Pattern, type QualityWord } from '../model/words.ts';
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { windowMedian } from './sorted-window.ts';
import type { Trace } from './trace.ts';

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

/** A row while it is filled, with the reasons for what stays missing. */
export type Filling = { row: MeasuredRow; words: Set<QualityWord> };

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
