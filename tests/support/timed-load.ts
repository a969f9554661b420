import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import type * as Load from '../../etl/load.ts';
import type * as OpenStore from '../../etl/store/open-store.ts';

/** A load in a process of its own, so that its memory can be measured: seconds, and the largest resident memory. */
export type TimedLoad = { seconds: number; taken: number; setAside: number; cranks: number; rssMiB: number };
type Asked = { paths: string[]; store: string; jobs: number };

export function timedLoad(asked: Asked): TimedLoad {
  const ran = spawnSync(process.execPath, [import.meta.filename, JSON.stringify(asked)], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  if (ran.status !== 0) throw new Error(`a timed load requires to end well, got exit code ${ran.status} (bench)`);
  return JSON.parse(ran.stdout) as TimedLoad;
}

/** Of the bundle, which starts sooner than its sources; it stands beside the folder that this file is compiled into. */
const PROGRAM = new URL('../../../program/', import.meta.url);

async function loadHere({ paths, store: path, jobs }: Asked): Promise<TimedLoad> {
  const { loadPaths } = (await import(new URL('load.js', PROGRAM).href)) as typeof Load;
  const { openStore } = (await import(new URL('open-store.js', PROGRAM).href)) as typeof OpenStore;
  const store = await openStore(path);
  const from = performance.now();
  const { taken, setAside, files } = await loadPaths(store, paths, { nowUs: Date.UTC(2026, 10, 1) * 1000, jobs });
  const seconds = (performance.now() - from) / 1000;
  store.close();
  const cranks = files.reduce((sum, file) => sum + file.cranks, 0);
  return { seconds, taken, setAside, cranks, rssMiB: largestRssMiB() };
}

/** Of this process alone: what the system counts as its maximum begins with the memory of the process that started it. */
function largestRssMiB(): number {
  const own = /VmHWM:\s+(\d+) kB/.exec(readFileSync('/proc/self/status', 'utf8'));
  return Math.round(Number(own![1]) / 1024);
}

const [, entry, asked] = process.argv;
if (entry === import.meta.filename && asked !== undefined)
  process.stdout.write(JSON.stringify(await loadHere(JSON.parse(asked) as Asked)));
