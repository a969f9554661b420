import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { backtest } from '../../etl/backtest.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';

/** Twelve origins over an invented fleet of 300 units and 730 days: what it takes, and what it finds. */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-backtest-'));
  try {
    await simulateFleet({ units: 300, days: 730, seed: 1, out: join(folder, 'fleet'), waveformShare: 0 });
    const store = await openStore(join(folder, 'store.sqlite'));
    await loadPaths(store, [join(folder, 'fleet')], { nowUs: asOf('2026-11-01').us });
    const [before, spent] = [performance.now(), process.cpuUsage()];
    const { origins, forecasts, scores } = await backtest(store, { newest: asOf('2026-10-31') });
    const { user, system } = process.cpuUsage(spent);
    const figures: Record<string, number | string> = {
      s: Number(((performance.now() - before) / 1000).toFixed(1)),
      'processor, s': Number(((user + system) / 1e6).toFixed(1)),
      origins: origins.length,
      forecasts: forecasts.length,
      'RSS MiB': Math.round(process.memoryUsage().rss / 2 ** 20),
    };
    for (const { component, failures, forecasters } of scores) {
      figures[`${component}, failures`] = failures;
      for (const { forecaster, unoC, skill } of forecasters)
        figures[`${component}, ${forecaster}: C, skill`] =
          `${unoC?.value.toFixed(3) ?? 'none'}, ${skill?.value.toFixed(3) ?? 'none'}`;
    }
    store.close();
    return { name: 'backtest', figures };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
