import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { afterAll, beforeAll } from 'vitest';
import { ROOT } from './source-files.ts';
import { storeFolder } from './store-folder.ts';

export type Ended = { code: number | null; out: string; err: string };

/** The command line as built, a process each call, on one store in a folder of the test file's own. */
export function calledProgram(): { path: (name: string) => string; run: (...words: string[]) => Ended } {
  let folder: Awaited<ReturnType<typeof storeFolder>>;
  beforeAll(async () => {
    folder = await storeFolder();
  });
  afterAll(async () => folder.remove());
  const path = (name: string) => folder.path(name);
  return {
    path,
    run: (...words) => {
      const env = { ...process.env, XDG_DATA_HOME: path('data'), CRANKLEDGER_STORE: path('store.sqlite') };
      const cli = join(ROOT, '.build/program/cli.js');
      const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...words], { encoding: 'utf8', env });
      return { code: status, out: stdout, err: stderr };
    },
  };
}
