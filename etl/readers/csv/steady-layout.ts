/**
 * Where things stand in the memory that `SteadyRows` reads rows in: constants, what is known of each column, an output
 * column for each that is read and one for the lines, then the text.
 */

/** Rows in a batch: large enough that a call costs nothing, small enough to stay in the processor's cache. */
export const BATCH_ROWS = 16_384;
/** A time after it is a clock's that is ahead, µs. */
export const LATEST_AT = 0;
/** Where the row begins that was not read. */
export const STOPPED_AT = 8;
/** 10 to the power of 0, 1 and so on. */
export const POWERS_AT = 16;
const POWERS = 10;
const KNOWN_AT = 128;
const KNOWN_END = 8_192;

/**
 * Of a column: its known bytes; how many, −1 for none yet; the index of its text; what of the last eight bytes counts. Of a time also: what
 * is known of it, µs; how many digits come next, how great they may be, how many decimals make whole µs.
 */
export const KNOWN = {
  bytes: 0,
  length: 72,
  index: 76,
  mask: 80,
  us: 88,
  digits: 96,
  most: 100,
  decimals: 104,
  size: 112,
};
export const MOST_KNOWN_BYTES = 64;
export const MOST_COLUMNS = Math.floor((KNOWN_END - KNOWN_AT) / KNOWN.size);
/** Decimals of a second, and of a millisecond, that are whole µs. */
export const DECIMALS_OF = { second: 6, milli: 3 };

export const knownAt = (column: number) => KNOWN_AT + column * KNOWN.size;
export const outputAt = (output: number) => KNOWN_END + output * BATCH_ROWS * 8;

export function writeConstants(memory: DataView, latestUs: number): void {
  memory.setFloat64(LATEST_AT, latestUs, true);
  for (let k = 0; k < POWERS; k++) memory.setFloat64(POWERS_AT + 8 * k, 10 ** k, true);
}
