import { existsSync, readFileSync, realpathSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Where things lie. The fleet's data live in the user's data folder, never in the checkout. */
export const DEFAULT_PORT = 4680;

export type Environment = Readonly<Record<string, string | undefined>>;

export function dataFolder(env: Environment): string {
  const base = env['XDG_DATA_HOME'];
  return join(base !== undefined && base !== '' ? base : join(homedir(), '.local/share'), 'crankledger');
}

/** `--store`, else CRANKLEDGER_STORE, else the user's own store. Throws RangeError for what is not a path. */
export function storePath(option: string | undefined, env: Environment): string {
  if (option === '') throw new RangeError('store requires the path of a file, got nothing (--store)');
  const given = option ?? env['CRANKLEDGER_STORE'];
  if (given === undefined || given === '') return join(dataFolder(env), 'store.sqlite');
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(given))
    throw new RangeError(
      `store requires the path of a file, got ${given.replace(/\/\/.*@/, '//…@')} (${option === undefined ? 'CRANKLEDGER_STORE' : '--store'})`,
    );
  return resolve(given);
}

export function sampleStorePath(env: Environment): string {
  return join(dataFolder(env), 'sample.sqlite');
}

/** The project's folder, from the source as from the build. */
export function projectFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json')) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

export function programVersion(): string {
  const text = readFileSync(join(projectFolder(), 'package.json'), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}

/** The pages as they are built now: those of a later build stand in another folder, to which the name then leads. */
export function webFolder(): string {
  const folder = join(projectFolder(), '.build/web');
  return existsSync(folder) ? realpathSync(folder) : folder;
}
