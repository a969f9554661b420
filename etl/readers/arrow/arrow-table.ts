import { openBatches, type ArrowBatches } from './arrow-batches.ts';
import { arrowColumn, isSingleValue } from './arrow-column.ts';
import { schemaOfFooter } from './arrow-footer.ts';
import { wholeMessages } from './arrow-messages.ts';
import { openBytes } from '../bytes/byte-stream.ts';
import { columnName, type ColumnTable, type TableBatch, type Wanted } from '../columns/column-table.ts';
import type { ByteStream } from '../reader.ts';

/** Rows converted at a time. */
const PIECE_ROWS = 16_384;

/** Opens an Arrow file as a table for as long as `use` takes. Throws UnreadableFile for one that cannot be read. */
export async function withArrow<Result>(
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
