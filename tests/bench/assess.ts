import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { assessAndRank } from '../../api/assess-and-rank.ts';
import { reassessAndRank } from '../../api/reassess-and-rank.ts';
import { assess } from '../../etl/assess.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { multiplyStore } from '../support/multiplied-store.ts';

/**
 * `assess` over 100, 1,000 and 5,000 units of two years with daily cranks: seconds, milliseconds a unit, memory. The
 * 100 units are simulated and loaded; the larger fleets are the same units under further names, each of whose blocks is
 * read from the store again. With `--long` instead: 10,000 units in a store of their own, three years of one row a day,
 * assessed, saved and ranked in as many threads as there are cores; then single units anew.
 */
type Figures = Record<string, number | string>;

const BASE_UNITS = 100;
const DAY = asOf('2026-10-31');
const NOW_US = asOf('2026-11-01').us;
const SINGLE_UNITS = 9;

export async function bench(): Promise<{ name: string; figures: Figures }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-assess-'));
  try {
    const figures = process.argv.includes('--long') ? await longRun(folder) : await shortRun(folder);
    return { name: 'assess', figures };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function shortRun(folder: string): Promise<Figures> {
  const store = await openStore(await loaded(folder, 730));
  const figures: Figures = {};
  for (const copies of [1, 10, 50]) {
    const units = copies * BASE_UNITS;
    Object.assign(figures, await measured(`${units} units`, async () => assess(repeated(store, copies), DAY)));
  }
  store.close();
  return figures;
}

async function longRun(folder: string): Promise<Figures> {
  const path = await inOwnProcess(folder);
  const store = await openStore(path);
  const jobs = availableParallelism();
  const figures: Figures = await measured(`10,000 units, ${jobs} jobs`, async () =>
    assessAndRank(store, DAY, { nowUs: NOW_US, jobs }),
  );
  const units = (await store.units()).map(({ unit }) => unit);
  const seconds: number[] = [];
  for (let at = 0; at < SINGLE_UNITS; at++) {
    const before = performance.now();
    await reassessAndRank(store, [units[Math.floor((at * units.length) / SINGLE_UNITS)]!], NOW_US);
    seconds.push((performance.now() - before) / 1000);
  }
  store.close();
  const sorted = seconds.toSorted((a, b) => a - b);
  const [middle, longest] = [sorted[sorted.length >> 1]!, sorted.at(-1)!];
  return { ...figures, 'one unit anew, s': Number(middle.toFixed(3)), 'longest, s': Number(longest.toFixed(3)) };
}

/** What made the store is no part of the memory that its assessment takes. */
async function inOwnProcess(folder: string): Promise<string> {
  const made = `import(${JSON.stringify(import.meta.url)}).then((own) => own.longStore(${JSON.stringify(folder)}))`;
  await promisify(execFile)(process.execPath, ['-e', made]);
  return join(folder, 'fleet.sqlite');
}

export async function longStore(folder: string): Promise<void> {
  multiplyStore(await loaded(folder, 1096), 100);
}

async function loaded(folder: string, days: number): Promise<string> {
  const data = join(folder, 'fleet');
  await simulateFleet({ units: BASE_UNITS, days, seed: 3, out: data, waveformShare: 0 });
  const path = join(folder, 'fleet.sqlite');
  const store = await openStore(path);
  await loadPaths(store, [data], { nowUs: NOW_US });
  store.close();
  return path;
}

async function measured(name: string, work: () => Promise<unknown>): Promise<Figures> {
  globalThis.gc?.();
  const [before, spent] = [performance.now(), process.cpuUsage()];
  await work();
  const seconds = (performance.now() - before) / 1000;
  const { user, system } = process.cpuUsage(spent);
  return {
    [`${name}, s`]: Number(seconds.toFixed(2)),
    [`${name}, processor s`]: Number(((user + system) / 1e6).toFixed(2)),
    // Linux: kilobytes. The most that the process has held so far.
    [`${name}, most RSS MiB`]: Math.round(process.resourceUsage().maxRSS / 1024),
  };
}

/** A store that shows every unit under several names. */
function repeated(store: Store, copies: number): Store {
  const names = Array.from({ length: copies }, (_, copy) => `~${copy}`);
  const each = <Row extends { unit: string }>(rows: readonly Row[]) =>
    names.flatMap((name) => rows.map((row) => ({ ...row, unit: row.unit + name })));
  return {
    ...store,
    units: async (asOfUs) => each(await store.units(asOfUs)),
    engines: async () => each(await store.engines()),
    fittedParts: async (asOfUs) => each(await store.fittedParts(asOfUs)),
    workOrders: async (asOfUs) => each(await store.workOrders(asOfUs)),
  };
}
