import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { ROOT } from './source-files.ts';

/** Folder of recorded engine starts and records; none of it is in the repository. */
const FOLDER = resolve(ROOT, process.env['CRANK_RECORDINGS'] ?? '../shared/recordings');

/** Path of a recording; null where there are no recordings. */
export function recording(name: string): string | null {
  const path = join(FOLDER, name);
  return existsSync(path) ? path : null;
}
export const HAS_RECORDINGS = recording('units.csv') !== null;
export const SKIPPED = HAS_RECORDINGS ? '' : ' (skipped: no recordings)';
