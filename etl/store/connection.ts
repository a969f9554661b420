import Database from 'better-sqlite3';
import { drizzle, type BetterSQLite3Database } from 'drizzle-orm/better-sqlite3';

/** One connection, seen raw (bulk inserts, pragmas) and through drizzle (all else). One thread uses it. */
export type Connection = { sqlite: Database.Database; db: BetterSQLite3Database };

/** What every part of the store works on. Reads go to a connection of their own and never wait for a writer. */
export type StoreConnections = { path: string; reader: Connection; writer: Connection | null };

/** A writer of another process holds the store for one batch, some tens of ms: this long is for a laden machine. */
const BUSY_MS = 60_000;
/** 16 MiB of log before it is folded into the file: a page that many batches touch is then folded in once. */
const CHECKPOINT_PAGES = 4_000;
/** Rows come sorted by engine: twice as much makes no load faster, and counts where a file of long texts fills it. */
const CACHE_KIB = { writer: 32 * 1024, reader: 16 * 1024 };

export function connect(path: string, role: 'writer' | 'reader'): Connection {
  const sqlite = new Database(path, { readonly: role === 'reader', timeout: BUSY_MS });
  sqlite.pragma(`cache_size = -${CACHE_KIB[role]}`);
  sqlite.pragma('trusted_schema = OFF');
  if (role === 'writer') {
    sqlite.pragma('journal_mode = WAL');
    sqlite.pragma('synchronous = NORMAL');
    sqlite.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
    sqlite.pragma('foreign_keys = ON');
  }
  return { sqlite, db: drizzle(sqlite) };
}

/** The writing connection. Throws Error on a store opened for reading only. */
export function writerOf(connections: StoreConnections): Connection {
  if (connections.writer) return connections.writer;
  throw new Error(`a change requires a store opened for writing, got a read-only one (${connections.path})`);
}

/** Runs one short batch as the one writer: takes the write lock first, so that nothing read inside can go stale. */
export function inTransaction<Result>(connection: Connection, work: () => Result): Result {
  return connection.sqlite.transaction(work).immediate();
}
