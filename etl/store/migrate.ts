import { existsSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { readMigrationFiles, type MigrationMeta } from 'drizzle-orm/migrator';
import { connect, type Connection } from './connection.ts';

/** Marks a SQLite file as a store of this program: `CRKL` in ASCII. */
export const APPLICATION_ID = 0x43_52_4b_4c;

/** The folder of generated migrations stands in the source tree, also for the compiled program. */
function migrationsFolder(): string {
  let root = import.meta.dirname;
  while (!existsSync(join(root, 'package.json'))) root = dirname(root);
  return join(root, 'etl', 'store', 'migrations');
}

export function storeMigrations(): MigrationMeta[] {
  return readMigrationFiles({ migrationsFolder: migrationsFolder() });
}

/** How many migrations the file has seen. Throws RangeError for a file that is no store, or one of a newer program. */
export function storeVersion(connection: Connection, known = storeMigrations().length): number {
  const { sqlite } = connection;
  const id = Number(sqlite.pragma('application_id', { simple: true }));
  const version = Number(sqlite.pragma('user_version', { simple: true }));
  const tables = Number(sqlite.prepare('select count(*) from sqlite_schema').pluck().get());
  if (id !== APPLICATION_ID && (id !== 0 || tables > 0))
    throw new RangeError(`a store requires a file that this program made, got another SQLite file (${sqlite.name})`);
  if (version > known)
    throw new RangeError(`a store requires version ${known} or older, got ${version} (${sqlite.name})`);
  return version;
}

/**
 * Brings a store up to date. Not drizzle's own `migrate`, for three reasons: the write lock is taken before the version
 * is read, so that two processes may open a new store at once; foreign keys are off while tables are rebuilt (else
 * SQLite deletes their child rows) and checked before anything is kept; and an older store is copied beside itself first.
 */
export function migrateStore(connection: Connection, migrations = storeMigrations()): void {
  const { sqlite } = connection;
  if (storeVersion(connection, migrations.length) === migrations.length) return;
  sqlite.pragma('foreign_keys = OFF');
  try {
    sqlite.transaction(() => applyFrom(connection, migrations)).immediate();
  } finally {
    sqlite.pragma('foreign_keys = ON');
  }
}

function applyFrom(connection: Connection, migrations: MigrationMeta[]): void {
  const { sqlite } = connection;
  const version = storeVersion(connection, migrations.length);
  if (version === migrations.length) return;
  if (version > 0) copyBeside(sqlite.name, `${sqlite.name}.version-${version}`);
  for (const { sql } of migrations.slice(version)) for (const statement of sql) sqlite.exec(statement);
  const orphans = sqlite.pragma('foreign_key_check');
  if (!Array.isArray(orphans) || orphans.length > 0)
    throw new Error(
      `a migration requires every row to keep its parent, got ${JSON.stringify(orphans)} (${sqlite.name})`,
    );
  sqlite.pragma(`application_id = ${APPLICATION_ID}`);
  sqlite.pragma(`user_version = ${migrations.length}`);
}

/** A consistent copy through a second connection: the first holds the write lock, so nothing changes meanwhile. */
function copyBeside(path: string, copy: string): void {
  const partial = `${copy}.partial`;
  rmSync(partial, { force: true });
  const { sqlite } = connect(path, 'reader');
  try {
    sqlite.prepare('vacuum into ?').run(partial);
  } finally {
    sqlite.close();
  }
  renameSync(partial, copy);
}
