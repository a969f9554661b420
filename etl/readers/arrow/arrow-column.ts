import { DataType, DateUnit, Precision, TimeUnit, type Data, type Vector } from 'apache-arrow';
import { UnreadableFile } from '../../model/set-aside.ts';
import {
  instantColumn,
  numberColumn,
  plainDecimal,
  wallClockColumn,
  type TableColumn,
  type Wanted,
} from '../columns/column-table.ts';
import { decimalOfFloat } from '../columns/float-32.ts';

/** Whether a column of this type holds one value a row that can be written as a cell. */
export function isSingleValue(type: DataType): boolean {
  if (DataType.isDictionary(type)) return isSingleValue(type.dictionary as DataType);
  return isNumber(type) || isText(type) || DataType.isTimestamp(type) || DataType.isDate(type);
}

const isNumber = (type: DataType) =>
  DataType.isInt(type) || DataType.isFloat(type) || DataType.isDecimal(type) || DataType.isBool(type);
const isText = (type: DataType) => DataType.isUtf8(type) || DataType.isLargeUtf8(type) || DataType.isUtf8View(type);

export type Rows = { from: number; to: number };

/** Rows [from, to) of a column of a record batch. Throws UnreadableFile for a column that is not whole. */
export function arrowColumn(vector: Vector, { from, to }: Rows, as: Wanted): TableColumn {
  const { type } = vector;
  requireWhole(vector.data[0]!);
  if (isNumber(type) && as !== 'text')
    return numberColumn(converted(vector, { from, to }, (value) => numberOf(value, type)));
  if (DataType.isTimestamp(type) && (type.timezone || as === 'instant')) {
    const us = converted(vector, { from, to }, (value) => microseconds(value as bigint, type.unit));
    return type.timezone ? instantColumn(us) : wallClockColumn(us);
  }
  const text = textsOf(vector);
  return { text: (row) => text(from + row), numbers: null, instants: null, repeats: repeatsOf(vector, from) };
}

/** A damaged batch may promise more rows than it has bytes for: the library then gives undefined. */
function requireWhole({ type, length, values, valueOffsets }: Data): void {
  const counted: ArrayLike<unknown> =
    (DataType.isUtf8(type) || DataType.isLargeUtf8(type) ? valueOffsets : values) ?? [];
  const needed = DataType.isBool(type) ? length / 8 : DataType.isDecimal(type) ? (length * type.bitWidth) / 32 : length;
  if (counted.length < needed)
    throw new UnreadableFile(`Arrow file requires whole columns, got ${counted.length} values for ${length} rows`);
}

function converted(vector: Vector, { from, to }: Rows, convert: (value: unknown) => number): Float64Array {
  const raw = rawValues(vector);
  const into = new Float64Array(to - from);
  const whole = vector.nullCount === 0;
  for (let row = from; row < to; row++)
    into[row - from] = whole || vector.isValid(row) ? convert(raw(row)) : Number.NaN;
  return into;
}

/** Values as they are stored: the library's own conversion rounds instants to milliseconds. */
function rawValues(vector: Vector): (row: number) => unknown {
  const { type } = vector;
  const { values } = vector.data[0]!;
  const direct =
    DataType.isTimestamp(type) ||
    DataType.isDate(type) ||
    DataType.isInt(type) ||
    (DataType.isFloat(type) && type.precision !== Precision.HALF);
  if (direct) return (row) => (values as ArrayLike<unknown>)[row];
  if (!DataType.isDecimal(type)) return (row) => libraryValue(vector, row);
  const words = type.bitWidth / 32;
  return (row) => signedInteger((values as Uint32Array).subarray(row * words, (row + 1) * words));
}

function libraryValue(vector: Vector, row: number): unknown {
  try {
    return vector.get(row);
  } catch (error) {
    throw new UnreadableFile('Arrow file requires whole columns, got one with a part missing', { cause: error });
  }
}

function signedInteger(words: Uint32Array): bigint {
  const size = words.reduceRight((sum, word) => (sum << 32n) | BigInt(word), 0n);
  return BigInt.asIntN(32 * words.length, size);
}

function numberOf(value: unknown, type: DataType): number {
  if (DataType.isDecimal(type)) return Number(decimalText(value as bigint, type.scale));
  if (DataType.isFloat(type) && type.precision === Precision.SINGLE) return decimalOfFloat(value as number);
  return Number(value);
}

function decimalText(value: bigint, scale: number): string {
  if (scale <= 0) return (value * 10n ** BigInt(-scale)).toString();
  const digits = (value < 0n ? -value : value).toString().padStart(scale + 1, '0');
  return `${value < 0n ? '-' : ''}${digits.slice(0, -scale)}.${digits.slice(-scale)}`;
}

/** Finer decimals than a microsecond are cut off, as in text. */
function microseconds(value: bigint, unit: TimeUnit): number {
  switch (unit) {
    case TimeUnit.SECOND:
      return Number(value) * 1e6;
    case TimeUnit.MILLISECOND:
      return Number(value) * 1e3;
    case TimeUnit.MICROSECOND:
      return Number(value);
    case TimeUnit.NANOSECOND:
      return Number((value - (((value % 1000n) + 1000n) % 1000n)) / 1000n);
  }
}

function textsOf(vector: Vector): (row: number) => string {
  const { type } = vector;
  if (DataType.isDictionary(type)) {
    const data: Data = vector.data[0]!;
    const texts = textsOf(data.dictionary!);
    const codes = data.values as ArrayLike<number>;
    return (row) => (vector.isValid(row) ? texts(Number(codes[row])) : '');
  }
  const raw = rawValues(vector);
  return (row) => (vector.isValid(row) ? textOf(raw(row), type) : '');
}

function textOf(value: unknown, type: DataType): string {
  if (isText(type)) {
    if (typeof value === 'string') return value;
    throw new UnreadableFile(`Arrow file requires a text in every row that is said to have one, got ${String(value)}`);
  }
  if (typeof value === 'boolean') return value ? '1' : '0';
  if (DataType.isTimestamp(type)) return zoneless(microseconds(value as bigint, type.unit));
  if (DataType.isDate(type))
    return zoneless(Number(value) * (type.unit === DateUnit.DAY ? 86_400e6 : 1e3)).slice(0, 10);
  if (DataType.isDecimal(type)) return decimalText(value as bigint, type.scale);
  if (typeof value === 'bigint') return value.toString();
  const number = numberOf(value, type);
  return Number.isNaN(number) ? '' : plainDecimal(number);
}

/** A time without zone as text has it, which no reader takes unless a profile names the zone. */
function zoneless(us: number): string {
  return (instantColumn(Float64Array.of(us)).text(0) as string).replace(/Z$/, '');
}

function repeatsOf(vector: Vector, from: number): TableColumn['repeats'] {
  if (vector.nullCount > 0) return () => false;
  const data: Data = vector.data[0]!;
  if (DataType.isDictionary(vector.type)) {
    const codes = data.values as ArrayLike<number>;
    return (row) => codes[from + row] === codes[from + row - 1];
  }
  if (!DataType.isUtf8(vector.type)) return () => false;
  const bytes = data.values as Uint8Array;
  const offsets = data.valueOffsets as Int32Array;
  return (row) => sameBytes(bytes, offsets, from + row);
}

/** Whether text `at` is that before it. */
function sameBytes(bytes: Uint8Array, offsets: Int32Array, at: number): boolean {
  const [before, begin, end] = [offsets[at - 1]!, offsets[at]!, offsets[at + 1]!];
  const length = end - begin;
  // Places that a damaged file gives may lie anywhere.
  if (length < 0 || length !== begin - before || before < 0 || end > bytes.length) return false;
  for (let i = length - 1; i >= 0; i--) if (bytes[before + i] !== bytes[begin + i]) return false;
  return true;
}
