import { openBatches, type ArrowBatches } from './arrow-batches.ts';
import { arrowColumn, isSingleValue } from './arrow-column.ts';
import { schemaOfFooter } from './arrow-footer.ts';
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
    const table = await withArrow(openBytes(path), path, async ({ columns }) => tableReaderOf(columns));
    return 'unrecognised' in table ? table : { reader: arrowReader(table) };
  },
};

function arrowReader(table: TableReader): Reader {
  const { kind } = table;
  return {
    name: `${kind}-arrow`,
    kind,
    version: table.version + VERSION,
    read: async ({ path, bytes }, sink, options) =>
      withArrow(bytes, path, async (columns) => table.readTable(columns, sink, options)),
  };
}

/** Opens an Arrow file as a table for as long as `use` takes. Throws UnreadableFile for one that cannot be read. */
async function withArrow<Result>(
  bytes: ByteStream,
  path: string,
  use: (table: ColumnTable) => Promise<Result>,
): Promise<Result> {
  const messages = wholeMessages(bytes, path);
  try {
    return await use(
      tableOf(
        await openBatches(messages, { where: path, schemaOf: async () => schemaOfFooter(openBytes(path), path) }),
      ),
    );
  } finally {
    await messages.return(undefined);
  }
}

function tableOf(opened: ArrowBatches): ColumnTable {
  const all = opened.fields.map(({ name, type }, index) => ({ column: columnName(name), type, index }));
  const single = all.filter(({ type }) => isSingleValue(type));

  async function* batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch> {
    const columns = [...wanted].map(([name, as]) => ({ ...single.find(({ column }) => column === name)!, as }));
    let before = 0;
    for await (const batch of opened.batches) {
      for (let from = 0; from < batch.numRows; from += PIECE_ROWS) {
        const rows = { from, to: Math.min(batch.numRows, from + PIECE_ROWS) };
        const count = rows.to - from;
        const first = before + from + 1;
        yield {
          count,
          lines: Float64Array.from({ length: count }, (_, row) => first + row),
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
