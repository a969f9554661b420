import type Database from 'better-sqlite3';
import { getTableColumns, getTableName, type InferInsertModel, type SQL } from 'drizzle-orm';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import { prepared } from './prepared.ts';

/**
 * Inserts rows by one prepared statement made from the table's schema: five to ten times as fast as drizzle's
 * `.values()`, with its mapping of each column kept. Runs inside the caller's transaction.
 */
export function bulkInsert<Table extends SQLiteTable>(
  sqlite: Database.Database,
  table: Table,
  rows: Iterable<Exact<InferInsertModel<Table>>>,
): void {
  insertAll(sqlite, { table, otherwise: '' }, rows);
}

/** `bulkInsert` that passes over a row whose key is there already. */
export function bulkInsertOnce<Table extends SQLiteTable>(
  sqlite: Database.Database,
  table: Table,
  rows: Iterable<Exact<InferInsertModel<Table>>>,
): void {
  insertAll(sqlite, { table, otherwise: ' on conflict do nothing' }, rows);
}

function insertAll(
  sqlite: Database.Database,
  { table, otherwise }: { table: SQLiteTable; otherwise: string },
  rows: Iterable<Record<string, unknown>>,
): void {
  const columns = Object.entries(getTableColumns(table));
  const names = columns.map(([, column]) => `"${column.name}"`).join(', ');
  const marks = columns.map(() => '?').join(', ');
  const insert = prepared(sqlite, `insert into "${getTableName(table)}" (${names}) values (${marks})${otherwise}`);
  for (const values of rows)
    insert.run(
      columns.map(([name, column]) => {
        const value = values[name] ?? null;
        return value === null ? null : column.mapToDriverValue(value);
      }),
    );
}

/** Plain values only: an SQL expression cannot be bound. */
type Exact<Row> = { [Name in keyof Row]: Exclude<Row[Name], SQL> };
