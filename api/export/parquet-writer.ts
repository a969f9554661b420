import { DuckDBInstance } from '@duckdb/node-api';
import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Cells, Column, ColumnType } from './export-table.ts';
import { ndjsonBlocks } from './ndjson-writer.ts';

/**
 * Writes a table as Parquet: the rows go to a temporary NDJSON file, which DuckDB turns into Parquet, so that memory
 * does not grow with the table. DuckDB may touch nothing but the temporary folder: no extension, no network.
 */
export async function withParquet<Result>(
  { columns, rows, currency }: { columns: readonly Column[]; rows: AsyncIterable<Cells>; currency: string },
  use: (file: string) => Promise<Result>,
): Promise<Result> {
  const folder = await mkdtemp(join(tmpdir(), 'crankledger-'));
  try {
    const [lines, parquet] = [join(folder, 'rows.ndjson'), join(folder, 'rows.parquet')];
    await pipeline(Readable.from(ndjsonBlocks(columns, rows, currency)), createWriteStream(lines));
    await convert(columns, { folder, lines, parquet });
    return await use(parquet);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const TYPES: Record<ColumnType, string> = {
  text: 'VARCHAR',
  number: 'DOUBLE',
  integer: 'INTEGER',
  flag: 'TINYINT',
  date: 'DATE',
  instant: 'TIMESTAMPTZ',
  money: 'DOUBLE',
};

type Paths = { folder: string; lines: string; parquet: string };

async function convert(columns: readonly Column[], { folder, lines, parquet }: Paths): Promise<void> {
  const instance = await DuckDBInstance.create(':memory:', {
    autoinstall_known_extensions: 'false',
    autoload_known_extensions: 'false',
  });
  const connection = await instance.connect();
  try {
    await connection.run(`SET allowed_directories = [${quoted(folder)}]`);
    await connection.run('SET enable_external_access = false');
    await connection.run("SET TimeZone = 'UTC'");
    const types = columns.map(({ name, type }) => `${quoted(name)}: ${quoted(TYPES[type])}`).join(', ');
    await connection.run(
      `COPY (SELECT * FROM read_json(${quoted(lines)}, format = 'newline_delimited', columns = {${types}})) ` +
        `TO ${quoted(parquet)} (FORMAT parquet, COMPRESSION zstd)`,
    );
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

const quoted = (text: string) => `'${text.replaceAll("'", "''")}'`;
