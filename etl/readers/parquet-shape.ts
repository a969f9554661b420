import type { FileShape, Reader, TableReader } from './reader.ts';
import { withParquet } from './parquet-file.ts';
import { tableReaderOf } from './table-of.ts';

/** Raised when the same bytes would be read differently. */
const VERSION = 1;
const MAGIC = Buffer.from('PAR1');

/** Parquet: a column store of its own, read by DuckDB. The lines of what is set aside are rows, counted from 1. */
export const parquetShape: FileShape = {
  name: 'parquet',
  recognises: ({ bytes }) => MAGIC.equals(bytes.subarray(0, MAGIC.length)),
  async readerOf({ path }) {
    const table = await withParquet(path, async ({ columns }) => tableReaderOf(columns));
    return 'unrecognised' in table ? table : { reader: parquetReader(table) };
  },
};

function parquetReader(table: TableReader): Reader {
  const { kind } = table;
  return {
    name: `${kind}-parquet`,
    kind,
    version: table.version + VERSION,
    async read({ path, bytes }, sink, options) {
      const report = await withParquet(path, async (columns) => table.readTable(columns, sink, options));
      // DuckDB opens the path itself; the stream is read to its end for the hash of the file.
      for await (const _ of bytes) continue;
      return report;
    },
  };
}
