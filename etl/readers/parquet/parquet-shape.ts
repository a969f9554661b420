import { containerReader, withTableGuess, type Container } from '../columns/container-reader.ts';
import type { FileShape } from '../reader.ts';

const MAGIC = Buffer.from('PAR1');

/** DuckDB is loaded with the first such file: that takes longer than to read a small CSV file. */
const library = async () => import('./parquet-file.ts');

const parquet: Container = {
  name: 'parquet',
  version: 1,
  async open({ path, bytes }, use) {
    const { withParquet } = await library();
    const result = await withParquet(path, use);
    // DuckDB opens the path itself; the stream is read to its end for the hash of the file.
    for await (const _ of bytes) continue;
    return result;
  },
};

/** Parquet: a column store of its own, read by DuckDB. The lines of what is set aside are rows, counted from 1. */
export const parquetShape: FileShape = {
  name: 'parquet',
  recognises: ({ bytes }) => MAGIC.equals(bytes.subarray(0, MAGIC.length)),
  async readerOf({ path }, { profile } = {}) {
    const { withParquet } = await library();
    return withParquet(path, async (table) => {
      const found = containerReader(parquet, { path, columns: table.columns }, profile);
      return withTableGuess(found, { table, path, profile });
    });
  },
};
