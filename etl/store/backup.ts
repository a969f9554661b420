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
  copyChecked(file, incoming);
  if (existsSync(path)) {
    settle(path);
    rmSync(`${path}.replaced`, { force: true });
    linkSync(path, `${path}.replaced`);
  }
  renameSync(incoming, path);
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
