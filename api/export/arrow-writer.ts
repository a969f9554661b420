import {
  AsyncByteQueue,
  DateDay,
  Float64,
  Int32,
  Int8,
  makeData,
  RecordBatch,
  RecordBatchStreamWriter,
  Field,
  Schema,
  Struct,
  tableToIPC,
  Table,
  TimestampMicrosecond,
  Utf8,
  vectorFromArray,
  type Data,
  type DataType,
} from 'apache-arrow';
import { minorDigits } from '../planning/money.ts';
import type { Cell, Cells, Column, ColumnType } from './export-table.ts';

/**
 * Arrow IPC stream of a table. Instants are microseconds UTC, dates days, money major units as a double, flags int8;
 * unknown is null.
 */
export function arrowStream(columns: readonly Column[], rows: readonly Cells[], currency = 'USD'): Uint8Array {
  const schema = schemaOf(columns);
  return tableToIPC(new Table(schema, [recordBatch(schema, columns, { rows, currency })]), 'stream');
}

/**
 * The same in batches, so that memory does not grow with the table: no row is asked for before what was written so far
 * has been taken. The library's own queue takes all that it is given, however slow its reader is.
 */
export async function* arrowBlocks(
  columns: readonly Column[],
  rows: AsyncIterable<Cells>,
  currency: string,
): AsyncGenerator<Uint8Array> {
  const schema = schemaOf(columns);
  const written = new WrittenParts();
  const writer = new RecordBatchStreamWriter();
  writer.reset(written, schema);
  let block: Cells[] = [];
  for await (const cells of rows) {
    block.push(cells);
    if (block.length < BATCH_ROWS) continue;
    writer.write(recordBatch(schema, columns, { rows: block, currency }));
    block = [];
    yield* written.take();
  }
  if (block.length > 0) writer.write(recordBatch(schema, columns, { rows: block, currency }));
  writer.close();
  yield* written.take();
}

/** Holds what the writer has written until it is taken. */
class WrittenParts extends AsyncByteQueue {
  private parts: Uint8Array[] = [];

  override write(part: Uint8Array): void {
    if (part.byteLength > 0) this.parts.push(part);
  }

  take(): Uint8Array[] {
    const parts = this.parts;
    this.parts = [];
    return parts;
  }
}

const BATCH_ROWS = 8192;

const TYPES: Record<ColumnType, () => DataType> = {
  text: () => new Utf8(),
  number: () => new Float64(),
  integer: () => new Int32(),
  flag: () => new Int8(),
  date: () => new DateDay(),
  instant: () => new TimestampMicrosecond('UTC'),
  money: () => new Float64(),
};

function schemaOf(columns: readonly Column[]): Schema {
  return new Schema(columns.map(({ name, type }) => new Field(name, TYPES[type](), true)));
}

function recordBatch(
  schema: Schema,
  columns: readonly Column[],
  { rows, currency }: { rows: readonly Cells[]; currency: string },
): RecordBatch {
  const children = columns.map(({ type }, index) => {
    const cells = rows.map((row) => row[index] ?? null);
    return type === 'instant' ? instants(cells) : plainValues(cells, type, currency);
  });
  return new RecordBatch(
    schema,
    makeData({ type: new Struct(schema.fields), length: rows.length, nullCount: 0, children }),
  );
}

function plainValues(cells: readonly Cell[], type: ColumnType, currency: string): Data {
  const unit = 10 ** minorDigits(currency);
  const value = (cell: Cell) => {
    if (cell === null) return null;
    if (type === 'date') return new Date(`${cell}T00:00:00Z`);
    return type === 'money' ? Number(cell) / unit : cell;
  };
  return vectorFromArray(cells.map(value), TYPES[type]()).data[0]!;
}

/** Built by hand: the library takes milliseconds for an instant and would lose the microseconds. */
function instants(cells: readonly Cell[]): Data {
  const known = new Uint8Array(Math.ceil(cells.length / 8));
  const data = new BigInt64Array(cells.length);
  let nullCount = 0;
  for (const [index, cell] of cells.entries()) {
    if (cell === null) nullCount++;
    else {
      data[index] = BigInt(cell);
      known[index >> 3]! |= 1 << (index & 7);
    }
  }
  return makeData({ type: new TimestampMicrosecond('UTC'), length: cells.length, nullCount, nullBitmap: known, data });
}
