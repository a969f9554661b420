/**
 * A crank in two stages.
 *
 * **Measured**: what the log alone gives, without the register, so that the register may come later with the same
 * result. This is what is stored row by row, for every file that holds the crank.
 *
 * **Finished**: one row per crank that counts (the better of two loggers, the later known of two files), with what
 * needs the unit's cylinders and system voltage (speed, pattern) and its neighbours (start grouping). This is kept per
 * engine as a block of Float64 columns, in time order, and can be rebuilt from the measured rows at any time.
 *
 * Both are tables of Float64 columns; NaN is missing; words are held as their index in `words.ts` (NaN: none).
 */
export const MEASURED_COLUMNS = [
  /** Onset, integer µs UTC. */
  'timeUs',
  /** Index in SOURCES. */
  'source',
  'restVolts',
  'dipVolts',
  'crankVolts',
  'chargeVolts',
  'crankSeconds',
  /** Strongest compression-ripple frequency of the rolling phase. */
  'rippleHz',
  /** Runner-up (usually half or double), for telling harmonics apart once the cylinders are known. */
  'rippleOtherHz',
  /** Mean logged engine speed while cranking, where it moves (a stuck default is no speed). */
  'loggedRpm',
  'ampsPeak',
  'tempC',
  'dropouts',
  'dropoutSeconds',
  /** Index in OUTCOMES. */
  'outcome',
  /** Bits of QUALITY_WORDS. */
  'quality',
  /** Index in PATTERNS of the pattern that the log alone decides; NaN where it turned the engine (slow, long, steady). */
  'form',
  /** Samples per second around the crank; NaN for a gateway's row. */
  'rateHz',
  /** Battery resistance by current at inrush, ohm. */
  'batteryOhms',
  /** Resistance of the rest of the loop by current at inrush, ohm. */
  'loopOhms',
  /** Mean current while rolling, A. */
  'crankAmps',
  /** Median volts at the solenoid's control terminal while the start is held. */
  'controlVolts',
  /** Dropouts during which the start request or the control voltage was gone as well. */
  'controlDropouts',
  /** Relative compression: ripple of the weakest cylinder over that of the strongest, 0 to 1. */
  'relativeCompression',
  /** Line of the file on which the crank begins. */
  'line',
] as const;
export type MeasuredColumn = (typeof MEASURED_COLUMNS)[number];

export const FINISHED_COLUMNS = [
  ...MEASURED_COLUMNS,
  'crankRpm',
  'sagRatio',
  /** Index in PATTERNS. */
  'pattern',
  /** Index in SUSPECTS. */
  'suspect',
  /** Onset of the first crank of the same start, µs. */
  'startUs',
  /** The import that the row came from. */
  'importId',
] as const;
export type FinishedColumn = (typeof FINISHED_COLUMNS)[number];

export type Table<Column extends string> = { count: number; columns: Record<Column, Float64Array> };
/** Measured cranks of one engine, one file (or one batch of it). */
export type MeasuredTable = Table<MeasuredColumn>;
/** Finished cranks of one engine, in time order. */
export type FinishedTable = Table<FinishedColumn>;

/** All columns lie in one piece of memory, one behind the other: made, sent and written at once. */
export function emptyTable<Column extends string>(columns: readonly Column[], count: number): Table<Column> {
  const all = new Float64Array(columns.length * count).fill(Number.NaN);
  const table = Object.fromEntries(columns.map((name, at) => [name, all.subarray(at * count, (at + 1) * count)]));
  return { count, columns: table as Record<Column, Float64Array> };
}

/** Measured cranks of many engines as a reader of event rows hands them on. Arrays may be reused by the reader. */
export type CrankBatch = {
  count: number;
  names: readonly string[];
  unit: Int32Array;
  /** Index into names; null where the file has no positions. */
  position: Int32Array | null;
  columns: Record<MeasuredColumn, Float64Array>;
};

/** A waveform that is kept beside its crank, from some seconds before onset to some after release. */
export type KeptWaveform = {
  unit: string;
  position: string;
  /** Onset of the crank it belongs to. */
  crankUs: number;
  samples: Uint8Array;
  sampleCount: number;
};
