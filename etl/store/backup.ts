import { existsSync, linkSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { connect, type Connection } from './connection.ts';
import { storeVersion } from './migrate.ts';

/** Copies the store, consistent while it is in use, and lets the copy appear whole. Throws RangeError if it exists. */
export function backupStore(reader: Connection, file: string): void {
  if (existsSync(file))
    throw new RangeError(`backup requires a file that does not exist yet, got one that does (${file})`);
  mkdirSync(dirname(file), { recursive: true });
  const partial = `${file}.partial`;
  rmSync(partial, { force: true });
  try {
    reader.sqlite.prepare('vacuum into ?').run(partial);
    linkSync(partial, file); // refuses to replace what came meanwhile
  } finally {
    rmSync(partial, { force: true });
  }
}

/**
 * Puts a backup in the place of a store. The backup is checked first; the store that stood there is kept beside it as
 * `<path>.replaced`. Throws RangeError for a file that is no whole store, and while another process has the store open.
 */
export function restoreStore(file: string, path: string): void {
  if (!existsSync(file)) throw new RangeError(`restore requires a backup file, got nothing there (${file})`);
  const incoming = `${path}.incoming`;
  mkdirSync(dirname(path), { recursive: true });
  rmSync(incoming, { force: true });
  try {
    copyChecked(file, incoming);
    setAsideOld(path);
    renameSync(incoming, path);
  } finally {
    rmSync(incoming, { force: true });
  }
}

/**
 * Keeps what stands at `path` beside it. A log without a readable store goes along: left behind, SQLite would replay
 * it into the restored store.
 */
function setAsideOld(path: string): void {
  const replaced = `${path}.replaced`;
  for (const end of ['', '-wal', '-shm']) rmSync(replaced + end, { force: true });
  if (existsSync(path) && isDatabase(path)) {
    settle(path);
    linkSync(path, replaced);
  } else for (const end of ['-wal', '-shm', '']) if (existsSync(path + end)) renameSync(path + end, replaced + end);
}

/** Whether SQLite can open the file at all; one that is merely in use counts as readable. */
function isDatabase(path: string): boolean {
  try {
    const { sqlite } = connect(path, 'reader');
    try {
      sqlite.pragma('schema_version');
    } finally {
      sqlite.close();
    }
    return true;
  } catch (error) {
    return !(error instanceof Error && 'code' in error && /^SQLITE_(NOTADB|CORRUPT)/.test(String(error.code)));
  }
}

function copyChecked(file: string, copy: string): void {
  let connection: Connection | null = null;
  try {
    connection = connect(file, 'reader');
    const version = storeVersion(connection);
    const verdict = connection.sqlite.pragma('integrity_check(1)', { simple: true });
    if (version === 0 || verdict !== 'ok')
      throw new RangeError(
        `restore requires a whole backup of a store, got ${version === 0 ? 'an empty file' : String(verdict)} (${file})`,
      );
    connection.sqlite.prepare('vacuum into ?').run(copy);
  } catch (error) {
    if (error instanceof RangeError) throw error;
    const got = error instanceof Error ? error.message : String(error);
    throw new RangeError(`restore requires a whole backup of a store, got ${got} (${file})`, { cause: error });
  } finally {
    connection?.sqlite.close();
  }
}

/** Folds the write-ahead log into the file. That works only while nobody else has the store open. */
function settle(path: string): void {
  const { sqlite } = connect(path, 'writer');
  try {
    sqlite.pragma('busy_timeout = 500');
    sqlite.pragma('wal_checkpoint(TRUNCATE)');
    const mode = sqlite.pragma('journal_mode = DELETE', { simple: true });
    if (mode !== 'delete') throw new Error('in use');
  } catch (error) {
    throw new RangeError(
      `restore requires a store that no other process has open, got one in use: stop the dashboard or the load first (${path})`,
      { cause: error },
    );
  } finally {
    sqlite.close();
  }
}
