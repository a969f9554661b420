import { spawnSync } from 'node:child_process';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { withDuckDb } from '../support/duckdb-files.ts';
import { freshStore } from '../support/open-stores.ts';
import { ROOT } from '../support/source-files.ts';
import type { TimedLoad } from '../support/timed-load.ts';

const fresh = freshStore();
/** Compiled, as a process of its own: its memory is its own. `npm test` has built it. */
const TIMED_LOAD = join(ROOT, '.build/node/tests/support/timed-load.js');

it('a small Parquet file of long complaints is loaded in bounded memory', { timeout: 60_000 }, async () => {
  const path = fresh.path('orders.parquet');
  const orders = `SELECT 'W' || r AS work_order, 'T' AS unit, DATE '2024-03-01' AS opened, repeat('no start', 6250) AS complaint FROM range(8000) t(r)`;
  await withDuckDb(`COPY (${orders}) TO '${path}' (FORMAT parquet, COMPRESSION zstd)`);
  expect((await stat(path)).size).toBeLessThan(20_000);
  const asked = JSON.stringify({ paths: [path], store: fresh.path('texts.sqlite'), jobs: 1 });
  const ran = spawnSync(process.execPath, [TIMED_LOAD, asked], { encoding: 'utf8' });
  const { taken, setAside, rssMiB } = JSON.parse(ran.stdout) as TimedLoad;
  expect([taken, setAside]).toEqual([8000, 0]);
  // Its texts are 400 MB: half of them held would be too much.
  expect(rssMiB).toBeLessThan(560);
});
