/**
 * A batch of voltage samples as a reader hands it on: one column per field, `count` rows in file order.
 *
 * The arrays belong to the reader and are filled anew after the sink returns: a sink copies what it keeps.
 * A column that the file does not have is null; a missing value is NaN. `unit`, `position` and `record` are indexes
 * into `names`, which only grows while a file is read.
 */
export type SampleBatch = {
  count: number;
  names: readonly string[];
  unit: Int32Array;
  position: Int32Array | null;
  record: Int32Array | null;
  /** Integer microseconds since 1970 UTC. */
  timeUs: Float64Array;
  volts: Float64Array;
  amps: Float64Array | null;
  tempC: Float64Array | null;
  coolantC: Float64Array | null;
  rpm: Float64Array | null;
  startRequest: Float64Array | null;
  controlVolts: Float64Array | null;
  /** 1-based line of the file (the header is line 1). */
  line: Float64Array;
};

/** The samples of one engine, in time order, that a recorder has cut out of the stream. Same rules for missing. */
export type Recording = {
  unit: string;
  position: string;
  count: number;
  timeUs: Float64Array;
  volts: Float64Array;
  amps: Float64Array | null;
  tempC: Float64Array | null;
  coolantC: Float64Array | null;
  rpm: Float64Array | null;
  startRequest: Float64Array | null;
  controlVolts: Float64Array | null;
  line: Float64Array;
};

/** What a log need not have beside its volts: of a log that has none of it. */
export const VOLTS_ALONE = {
  amps: null,
  tempC: null,
  coolantC: null,
  rpm: null,
  startRequest: null,
  controlVolts: null,
} as const;
