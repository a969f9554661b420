import { DuckDBInstance, type DuckDBConnection } from '@duckdb/node-api';
import { resolve } from 'node:path';
import { UnreadableFile } from '../../model/set-aside.ts';
import { columnName, type ColumnTable, type TableBatch, type Wanted } from '../columns/column-table.ts';
import { expressionOf, isSingleValue, tableColumnOf } from './duckdb-column.ts';

/**
 * DuckDB may touch nothing but the one file: no other path, no extension, no network, no spilling to disk. One thread,
 * since a load runs its files side by side; a file that needs more memory than this is refused. One batch ahead.
 */
const CONFIGURATION = {
  threads: '1',
  memory_limit: '200MB',
  temp_directory: '',
  autoinstall_known_extensions: 'false',
  autoload_known_extensions: 'false',
};

/** Opens a Parquet file as a table for as long as `use` takes. Throws UnreadableFile for one that cannot be read. */
export async function withParquet<Result>(path: string, use: (table: ColumnTable) => Promise<Result>): Promise<Result> {
  const instance = await DuckDBInstance.create(':memory:', CONFIGURATION);
  const connection = await instance.connect();
  try {
    await connection.run(`SET allowed_paths = [${literal(resolve(path))}, ${literal(pattern(path))}]`);
    await connection.run('SET enable_external_access = false');
    await connection.run("SET TimeZone = 'UTC'");
    await connection.run("SET streaming_buffer_size = '1KB'");
    await connection.run('SET lock_configuration = true');
    return await use(await tableOf(connection, path));
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

/** A page is unzipped as a whole, outside of what DuckDB counts as its memory. 64 Mi rows of 8 bytes. Program. */
const MOST_COLUMN_BYTES = 512 * 2 ** 20;

async function requireBoundedColumns(connection: DuckDBConnection, path: string): Promise<void> {
  const query = 'SELECT max(total_uncompressed_size)::DOUBLE AS size FROM parquet_metadata(?)';
  const reader = await explained(path, async () => connection.runAndReadAll(query, [pattern(path)]));
  const size = Number(reader.value(0, 0) ?? 0);
  if (size <= MOST_COLUMN_BYTES) return;
  const requires = `columns of at most ${MOST_COLUMN_BYTES} bytes a row group`;
  throw new UnreadableFile(`Parquet file requires ${requires}, got ${size}: write it with smaller ones (${path})`);
}

async function tableOf(connection: DuckDBConnection, path: string): Promise<ColumnTable> {
  await requireBoundedColumns(connection, path);
  const head = await explained(path, async () => connection.run(`SELECT * FROM ${SOURCE} LIMIT 0`, [pattern(path)]));
  const all = head.columnNames().map((name, index) => {
    return { name, column: columnName(name), typeId: head.columnTypeId(index) };
  });
  const single = all.filter(({ typeId }) => isSingleValue(typeId));

  async function* batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch> {
    const columns = [...wanted].map(([column, as]) => ({ ...single.find((each) => each.column === column)!, as }));
    const list = columns.map((each) => expressionOf(identifier(each.name), each)).join(', ');
    const query = `SELECT ${list} FROM ${SOURCE}`;
    const result = await explained(path, async () => connection.stream(query, [pattern(path)]));
    const fetch = async () => explained(path, async () => result.fetchChunk());
    let lines = new Float64Array(0);
    // The next batch is unzipped by DuckDB's thread while this one is read here; but texts alone may be large.
    const looksAhead = columns.some(({ as }) => as !== 'text');
    let ahead = fetch();
    try {
      for (let before = 0; ;) {
        const chunk = await ahead;
        const count = chunk?.rowCount ?? 0;
        if (chunk === null || count === 0) return;
        if (looksAhead) ahead = fetch();
        ahead.catch(() => undefined); // told when it is waited for
        if (lines.length !== count) lines = new Float64Array(count);
        for (let row = 0; row < count; row++) lines[row] = before + row + 1;
        const vectors = columns.map((each, index) => tableColumnOf(chunk.getColumnVector(index), each));
        yield { count, lines, columns: vectors, setAside: [] };
        chunk.reset(); // its texts would wait for the garbage collector, which does not see how large they are
        before += count;
        if (!looksAhead) ahead = fetch();
      }
    } finally {
      await ahead.catch(() => undefined);
    }
  }
  const others = all.filter((each) => !single.includes(each));
  return { columns: single.map(({ column }) => column), others: others.map(({ column }) => column), batches };
}

/** Old writers mark texts as plain bytes; a folder's name is no column. */
const SOURCE = 'read_parquet(?, binary_as_string = true, hive_partitioning = false)';

/** The path as a pattern that means itself alone. */
function pattern(path: string): string {
  return resolve(path).replace(/[[*?]/g, '[$&]');
}

const literal = (text: string) => `'${text.replaceAll("'", "''")}'`;
const identifier = (name: string) => `"${name.replaceAll('"', '""')}"`;

async function explained<Result>(path: string, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const [why = ''] = (error instanceof Error ? error.message : String(error)).split('\n');
    const requires = why.startsWith('Out of Memory')
      ? 'row groups that fit into 200 MB: write it with smaller ones'
      : 'a whole file, not zipped again';
    throw new UnreadableFile(`Parquet file requires ${requires}, got ${why} (${path})`, { cause: error });
  }
}
