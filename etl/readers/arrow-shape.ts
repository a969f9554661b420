import { RecordBatchReader, type AsyncRecordBatchStreamReader, type RecordBatch } from 'apache-arrow';
import { UnreadableFile } from '../model/set-aside.ts';
import { arrowColumn, isSingleValue } from './arrow-column.ts';
import { isArrow, wholeMessages } from './arrow-messages.ts';
import { openBytes } from './byte-stream.ts';
import { columnName, type ColumnTable, type TableBatch, type Wanted } from './column-table.ts';
import type { ByteStream, FileShape, Reader, TableReader } from './reader.ts';
import { tableReaderOf } from './table-of.ts';

/** Raised when the same bytes would be read differently. */
const VERSION = 1;
/** Rows converted at a time. */
const PIECE_ROWS = 16_384;

/** Arrow, file or stream, batch by batch. The lines of what is set aside are rows, counted from 1. */
export const arrowShape: FileShape = {
  name: 'arrow',
  recognises: ({ bytes }) => isArrow(bytes),
  async readerOf({ path }) {
    const { columns } = await openArrow(openBytes(path), path);
    const table = tableReaderOf(columns);
    return 'unrecognised' in table ? table : { reader: arrowReader(table) };
  },
};

function arrowReader(table: TableReader): Reader {
  const { kind } = table;
  return {
    name: `${kind}-arrow`,
    kind,
    version: table.version + VERSION,
    read: async ({ path, bytes }, sink, options) => table.readTable(await openArrow(bytes, path), sink, options),
  };
}

async function openArrow(bytes: ByteStream, path: string): Promise<ColumnTable> {
  const reader = await explained(path, async () =>
    RecordBatchReader.from<AsyncRecordBatchStreamReader>(wholeMessages(bytes, path) as never).open(),
  );
  const all = reader.schema.fields.map(({ name, type }, index) => ({ column: columnName(name), type, index }));
  const single = all.filter(({ type }) => isSingleValue(type));

  async function* batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch> {
    const columns = [...wanted].map(([name, as]) => ({ ...single.find(({ column }) => column === name)!, as }));
    for (let before = 0; ;) {
      const next = await explained(path, async () => reader.next());
      if (next.done === true) return;
      const batch: RecordBatch = next.value;
      for (let from = 0; from < batch.numRows; from += PIECE_ROWS) {
        const rows = { from, to: Math.min(batch.numRows, from + PIECE_ROWS) };
        const count = rows.to - from;
        yield {
          count,
          lines: Float64Array.from({ length: count }, (_, row) => before + from + row + 1),
          columns: columns.map(({ index, as }) => arrowColumn(batch.getChildAt(index)!, rows, as)),
          setAside: [],
        };
      }
      before += batch.numRows;
    }
  }
  const others = all.filter((each) => !single.includes(each));
  return { columns: single.map(({ column }) => column), others: others.map(({ column }) => column), batches };
}

async function explained<Result>(path: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof UnreadableFile) throw error;
    const why = error instanceof Error ? error.message : String(error);
    const got = why.includes('codec not found') ? 'compressed ones: write it without compression' : why;
    throw new UnreadableFile(`Arrow file requires whole record batches, got ${got} (${path})`, { cause: error });
  }
}
