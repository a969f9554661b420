import type { SetAside } from '../../model/set-aside.ts';
import { isoInstant } from '../../model/time.ts';
import type { RowFault } from '../kinds/cell.ts';

/** How a column is asked for. A column that stores something else gives texts all the same. */
export type Wanted = 'text' | 'number' | 'instant';

/** One column of a batch, a value a row. Where numbers or instants are given they say the same as the texts. */
export type TableColumn = {
  /** The value as a CSV file would have it written; empty where it is missing; a fault where it can be no cell. */
  text(row: number): string | RowFault;
  /** NaN where missing. */
  numbers: Float64Array | null;
  /** Integer µs of instants with a zone; NaN where missing. */
  instants: Float64Array | null;
  /** Integer µs of times without a zone, as if they were in UTC; NaN where missing. */
  wallClocks?: Float64Array;
  /** Whether a row, not the first, certainly has the text of the row before: loggers write one unit for many rows. */
  repeats(row: number): boolean;
};

export type TableBatch = {
  count: number;
  /** Where each row stands in the file, from 1. */
  lines: Float64Array;
  /** The wanted columns in the order in which they were asked for. */
  columns: readonly TableColumn[];
  /** Rows that could not be told apart into columns. */
  setAside: readonly SetAside[];
};

/**
 * A table that is not stored as CSV: columns by name, rows in the order of the file. What it gives is read as the same
 * table in CSV would be.
 */
export type ColumnTable = {
  /** Names of the columns that hold one value a row, trimmed and lower-cased. */
  columns: readonly string[];
  /** Names of what cannot be a column (lists, structures, images). */
  others: readonly string[];
  /**
   * The rows, of the columns that are wanted. Arrays are valid until the next batch is asked for. Throws UnreadableFile
   * for a file that breaks off.
   */
  batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch>;
};

/** Column names as they are compared: without blanks around, in small letters. */
export function columnName(name: string): string {
  return name
    .replace(/^\uFEFF/, '')
    .trim()
    .toLowerCase();
}

/** A number as a CSV file would have it: a whole number without a point or exponent, 14 and 1000000. */
export function plainDecimal(value: number): string {
  return Number.isInteger(value) && Math.abs(value) >= 1e21 ? BigInt(value).toString() : String(value);
}

const never = () => false;

/** A column that stores numbers. */
export function numberColumn(numbers: Float64Array): TableColumn {
  const text = (row: number) => (Number.isNaN(numbers[row]!) ? '' : plainDecimal(numbers[row]!));
  return { text, numbers, instants: null, repeats: never };
}

/** Years that have four digits; others are shown as a bare number, which no reader takes. */
const [YEAR_0_US, YEAR_9999_US] = [-62_167_219_200e6, 253_402_300_800e6];

/** A column that stores instants. */
export function instantColumn(instants: Float64Array): TableColumn {
  const text = (row: number) => {
    const us = instants[row]!;
    if (Number.isNaN(us)) return '';
    return us >= YEAR_0_US && us < YEAR_9999_US ? isoInstant(us) : plainDecimal(us);
  };
  return { text, numbers: null, instants, repeats: never };
}

/** A column that stores times without a zone: as such text they are taken only where a profile names one. */
export function wallClockColumn(wallClocks: Float64Array): TableColumn {
  const inUtc = instantColumn(wallClocks);
  const text = (row: number) => (inUtc.text(row) as string).replace(/Z$/, '');
  return { text, numbers: null, instants: null, wallClocks, repeats: never };
}
