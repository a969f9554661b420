import { readdirSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { UnreadableFile } from '../model/set-aside.ts';

/** A file to load, by the path under which it was found. */
export type FoundFile = { path: string; bytes: number };
export type Found = { files: FoundFile[]; unreadable: { path: string; reason: string }[] };

const byName = (a: string, b: string) => Number(a > b) - Number(a < b);

/**
 * The files of folders and paths, sorted, each once. Hidden files and folders are passed over; a folder that cannot be
 * read is told, and the rest goes on. Throws UnreadableFile for a path that was named and is not there.
 */
export function findFiles(paths: readonly string[]): Found {
  const found: Found = { files: [], unreadable: [] };
  const seen = new Set<string>();
  for (const path of paths) walk(path, found, { seen, named: true });
  return found;
}

type Walk = { seen: Set<string>; named: boolean };

/** At once, not in the pool of threads that reads files: there each request costs some times the answer. */
function walk(path: string, found: Found, { seen, named }: Walk): void {
  try {
    const real = realpathSync.native(path);
    if (seen.has(real)) return;
    seen.add(real);
    const entry = statSync(real);
    if (entry.isFile()) found.files.push({ path, bytes: entry.size });
    else if (entry.isDirectory())
      for (const name of visibleNames(real)) walk(join(path, name), found, { seen, named: false });
    else if (named) throw new UnreadableFile(`load requires files and folders, got something else (${path})`);
  } catch (error) {
    if (error instanceof UnreadableFile) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    if (named && code === 'ENOENT')
      throw new UnreadableFile(`load requires a path that exists, got nothing there (${path})`);
    found.unreadable.push({ path, reason: reasonOf(code) });
  }
}

function reasonOf(code: string): string {
  if (code === 'EACCES' || code === 'EPERM')
    return 'folder requires permission to read it, got none: ask its owner to allow reading';
  return `path requires something that the system can read, got ${code}`;
}

function visibleNames(folder: string): string[] {
  const names = readdirSync(folder).filter((name) => !name.startsWith('.'));
  return names.sort(byName);
}
