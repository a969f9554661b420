import type { AsOf } from '../../etl/model/time.ts';
import type { Settings } from '../../etl/model/settings.ts';
import type { Store } from '../../etl/store/store.ts';

/**
 * A table that goes out of the program. A cell is text, a number, or null for unknown; what a column holds decides how
 * each format writes it. Dates are `YYYY-MM-DD` text, instants integer microseconds UTC, money integer minor units of
 * the table's currency, flags 0 or 1.
 */
export type ColumnType = 'text' | 'number' | 'integer' | 'flag' | 'date' | 'instant' | 'money';
export type Column = { name: string; type: ColumnType };
export type Cell = string | number | null;
export type Cells = readonly Cell[];

/** `decidedUs`: up to which instant bookings and deferrals count. */
export type ExportQuestion = { store: Store; asOf: AsOf; settings: Settings; decidedUs: number };

export type ExportTable = {
  name: string;
  /** What the table holds, for `--help`. */
  about: string;
  columns: readonly Column[];
  /** Whether its rows come out of an assessment of the date. */
  assessed: boolean;
  /** What `--json` prints in place of the rows; null where there is none yet. */
  summary?(store: Store): Promise<object | null>;
  /** Sorted by key. */
  rows(question: ExportQuestion): AsyncIterable<Cells>;
};

/** `columns('text', 'unit', 'position')`: some columns of one type. */
export function columns(type: ColumnType, ...names: string[]): Column[] {
  return names.map((name) => ({ name, type }));
}

/** By code unit, part by part: the same order on every machine. */
export function compareKeys(a: readonly (string | number)[], b: readonly (string | number)[]): number {
  for (const [index, left] of a.entries()) {
    const right = b[index]!;
    if (left !== right) return left < right ? -1 : 1;
  }
  return 0;
}
