import { DuckDBInstance } from '@duckdb/node-api';

/** Runs statements in a database of their own, to write files that the readers had no part in. */
export async function withDuckDb(...statements: string[]): Promise<void> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    await connection.run("SET TimeZone = 'UTC'");
    for (const statement of statements) await connection.run(statement);
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}
