import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPaths, type LoadReport } from '../../etl/load.ts';
import { dateUs } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';

/** The clock of the tests: no invented log is later. */
export const NOW_US = dateUs('2026-11-20');

/** A temporary folder for stores and files; `remove` clears it away. */
export async function storeFolder(): Promise<{ path: (name: string) => string; remove: () => Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'store-test-'));
  return { path: (name) => join(folder, name), remove: async () => rm(folder, { recursive: true, force: true }) };
}

/** Opens a store, does something with it, closes it. */
export async function withStore<Result>(path: string, work: (store: Store) => Promise<Result>): Promise<Result> {
  const store = await openStore(path);
  try {
    return await work(store);
  } finally {
    store.close();
  }
}

export async function load(path: string, files: readonly string[]): Promise<LoadReport> {
  return withStore(path, async (store) => loadPaths(store, files, { nowUs: NOW_US }));
}
