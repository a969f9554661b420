import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { assess } from '../../etl/assess.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';

/**
 * `assess` over 100, 1,000 and 5,000 units of two years with daily cranks: seconds, milliseconds a unit, memory. The
 * 100 units are simulated and loaded; the larger fleets are the same units under further names, each of whose blocks is
 * read from the store again.
 */
const BASE_UNITS = 100;

export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-assess-'));
  try {
    const data = join(folder, 'fleet');
    await simulateFleet({ units: BASE_UNITS, days: 730, seed: 3, out: data, waveformShare: 0 });
    const store = await openStore(join(folder, 'fleet.sqlite'));
    await loadPaths(store, [data], { nowUs: asOf('2026-11-01').us });
    const figures: Record<string, number | string> = {};
    for (const copies of [1, 10, 50])
      Object.assign(figures, await measure(repeated(store, copies), copies * BASE_UNITS));
    store.close();
    return { name: 'assess', figures };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function measure(store: Store, units: number): Promise<Record<string, number>> {
  globalThis.gc?.();
  const before = performance.now();
  const { outlooks } = await assess(store, asOf('2026-10-31'));
  const seconds = (performance.now() - before) / 1000;
  return {
    [`${units} units, s`]: Number(seconds.toFixed(2)),
    [`${units} units, ms a unit`]: Number(((1000 * seconds) / units).toFixed(2)),
    [`${units} units, outlooks`]: outlooks.length,
    [`${units} units, RSS MiB`]: Math.round(process.memoryUsage().rss / 2 ** 20),
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
