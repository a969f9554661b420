import {
  DuckDBDoubleVector,
  DuckDBFloatVector,
  DuckDBTypeId,
  DuckDBVarCharVector,
  type DuckDBVector,
} from '@duckdb/node-api';
import { RowFault } from '../kinds/cell.ts';
import {
  instantColumn,
  numberColumn,
  plainDecimal,
  wallClockColumn,
  type TableColumn,
  type Wanted,
} from '../columns/column-table.ts';
import { decimalsOfFloats } from '../columns/float-32.ts';

const T = DuckDBTypeId;
const FLOATS: readonly DuckDBTypeId[] = [T.FLOAT, T.DOUBLE];
const INTEGERS = [T.TINYINT, T.SMALLINT, T.INTEGER, T.BIGINT, T.HUGEINT];
const COUNTS = [T.UTINYINT, T.USMALLINT, T.UINTEGER, T.UBIGINT, T.UHUGEINT];
const NUMBERS: readonly DuckDBTypeId[] = [T.BOOLEAN, T.DECIMAL, ...INTEGERS, ...COUNTS, ...FLOATS];
const WALL_CLOCKS: readonly DuckDBTypeId[] = [T.TIMESTAMP, T.TIMESTAMP_S, T.TIMESTAMP_MS, T.TIMESTAMP_NS];
const CLOCKS = [T.DATE, T.TIME, T.TIME_TZ, T.TIME_NS, ...WALL_CLOCKS];
const TEXTS: readonly DuckDBTypeId[] = [T.VARCHAR, T.ENUM, T.UUID, T.SQLNULL, ...CLOCKS];

/** As long as a quoted field of a CSV file: a batch holds 2,048 of them for each column. */
const MOST_CHARACTERS = 65_536;

type Asked = { column: string; typeId: DuckDBTypeId; as: Wanted };

/** Whether a column of this type holds one value a row that can be written as a cell. */
export function isSingleValue(typeId: DuckDBTypeId): boolean {
  return NUMBERS.includes(typeId) || TEXTS.includes(typeId) || typeId === T.TIMESTAMP_TZ;
}

/** What is selected: numbers and instants as floating-point numbers with NaN for missing, all else as text. */
export function expressionOf(name: string, { typeId, as }: Omit<Asked, 'column'>): string {
  if (typeId === T.TIMESTAMP_TZ)
    return `CASE WHEN isfinite(${name}) THEN epoch_us(${name})::DOUBLE ELSE 'NaN'::DOUBLE END`;
  if (WALL_CLOCKS.includes(typeId) && as === 'instant') {
    const us = typeId === T.TIMESTAMP_NS ? `epoch_ns(${name}) // 1000` : `epoch_us(${name})`;
    return `CASE WHEN isfinite(${name}) THEN (${us})::DOUBLE ELSE 'NaN'::DOUBLE END`;
  }
  if (NUMBERS.includes(typeId) && as !== 'text') {
    const type = typeId === T.FLOAT ? 'FLOAT' : 'DOUBLE';
    return `coalesce(${name}::${type}, 'NaN'::${type})`;
  }
  if (typeId === T.VARCHAR)
    return `CASE WHEN strlen(${name}) > ${MOST_CHARACTERS} THEN left(${name}, ${MOST_CHARACTERS + 1}) ELSE ${name} END`;
  return typeId === T.BOOLEAN ? `${name}::TINYINT::VARCHAR` : `${name}::VARCHAR`;
}

/** A vector of what `expressionOf` selects. */
export function tableColumnOf(vector: DuckDBVector, { column, typeId }: Asked): TableColumn {
  if (vector instanceof DuckDBVarCharVector) return textColumn(vector, column, FLOATS.includes(typeId));
  if (vector instanceof DuckDBFloatVector) return numberColumn(decimalsOfFloats(valuesOf(vector)));
  if (!(vector instanceof DuckDBDoubleVector))
    throw new Error(`column requires numbers or text, got ${String(vector.type)} (Parquet)`);
  if (WALL_CLOCKS.includes(typeId)) return wallClockColumn(valuesOf(vector));
  return typeId === T.TIMESTAMP_TZ ? instantColumn(valuesOf(vector)) : numberColumn(valuesOf(vector));
}

/**
 * The numbers as they lie in DuckDB's memory, valid as long as their chunk is; `expressionOf` leaves none missing. That
 * they lie there so is not part of what the package promises: else they are copied one by one.
 */
function valuesOf(vector: DuckDBDoubleVector): Float64Array;
function valuesOf(vector: DuckDBDoubleVector | DuckDBFloatVector): Float64Array | Float32Array;
function valuesOf(vector: DuckDBDoubleVector | DuckDBFloatVector): Float64Array | Float32Array {
  const items: unknown = Reflect.get(vector, 'items');
  const form = vector instanceof DuckDBDoubleVector ? Float64Array : Float32Array;
  if (items instanceof form && items.length === vector.itemCount) return items;
  const values = new Float64Array(vector.itemCount);
  for (let row = 0; row < values.length; row++) values[row] = vector.getItem(row) ?? Number.NaN;
  return values;
}

const never = () => false;

/** Rows of a vector that are looked at together: a vector keeps every text that was asked for. */
const TEXTS_KEPT = 64;

function textColumn(vector: DuckDBVarCharVector, column: string, isFloat: boolean): TableColumn {
  let kept = vector;
  let from = Infinity;
  const written = (row: number) => {
    if (row < from || row >= from + TEXTS_KEPT) {
      from = row - (row % TEXTS_KEPT);
      kept = vector.slice(from, Math.min(TEXTS_KEPT, vector.itemCount - from));
    }
    return kept.getItem(row - from) ?? '';
  };
  const text = (row: number) => {
    const given = written(row);
    if (given.length > MOST_CHARACTERS) return new RowFault(column, given, `at most ${MOST_CHARACTERS} characters`);
    if (!isFloat || given === '') return given;
    const value = Number(given);
    return Number.isNaN(value) ? '' : plainDecimal(value);
  };
  return { text, numbers: null, instants: null, repeats: repeatsOf(vector) };
}

/**
 * DuckDB holds a text as 16 bytes: length and text, or length and address. Two rows with the same 16 bytes have the same
 * text, without a look at it. The bytes are not part of what the package promises: without them nothing repeats.
 */
function repeatsOf(vector: DuckDBVarCharVector): TableColumn['repeats'] {
  const view: unknown = Reflect.get(vector, 'dataView');
  if (!(view instanceof DataView) || view.byteLength !== 16 * vector.itemCount || view.byteOffset % 4 !== 0)
    return never;
  const words = new Int32Array(view.buffer, view.byteOffset, 4 * vector.itemCount);
  return (row) => {
    const at = 4 * row;
    return (
      words[at] === words[at - 4] &&
      words[at + 1] === words[at - 3] &&
      words[at + 2] === words[at - 2] &&
      words[at + 3] === words[at - 1]
    );
  };
}
