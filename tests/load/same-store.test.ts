import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { promisify } from 'node:util';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPaths } from '../../etl/load.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { ROOT } from '../support/source-files.ts';
import { storeDump } from '../support/store-dump.ts';
import { load, NOW_US, storeFolder, withStore } from '../support/store-folder.ts';

/** Whatever happens on the way, the same files make the same store. Killed for real: `npm test` has built the CLI. */
const CLI = join(ROOT, '.build/node/api/cli.js');
const run = promisify(execFile);

let folder: Awaited<ReturnType<typeof storeFolder>>;
let fleet = '';
let files: string[] = [];
let whole: Record<string, unknown>;
const dump = (name: string) => withStore(folder.path(name), storeDump);

beforeAll(async () => {
  folder = await storeFolder();
  fleet = folder.path('fleet');
  await simulateFleet({ units: 14, days: 150, seed: 3, out: fleet, waveformShare: 0.01 });
  files = (await readdir(fleet)).sort().map((name) => join(fleet, name));
  await load(folder.path('whole.sqlite'), files);
  whole = await dump('whole.sqlite');
});
afterAll(async () => folder.remove());

describe('the same store', () => {
  it('holds something', () => {
    expect(Object.keys(whole['cranks'] as object).length).toBeGreaterThan(10);
    expect(whole['stale']).toBe(0);
  });

  it('comes of loading twice', async () => {
    const again = await load(folder.path('whole.sqlite'), [fleet]);
    expect(again.files.map(({ result }) => result)).toEqual(files.map(() => 'already'));
    expect(await dump('whole.sqlite')).toEqual(whole);
  });

  it.each([1, 2])('comes of another order (%i)', async (seed) => {
    const random = createRandom(seed, 'order');
    const shuffled = files.map((file) => [random.uniform(), file] as const).sort(([a], [b]) => a - b);
    for (const [, file] of shuffled) await load(folder.path(`order-${seed}.sqlite`), [file]);
    expect(await dump(`order-${seed}.sqlite`)).toEqual(whole);
  });

  it('comes of overlapping files, whichever is first', async () => {
    const name = files.find((file) => file.includes('cranks-'))!;
    const lines = gunzipSync(await readFile(name))
      .toString('utf8')
      .trimEnd()
      .split('\n');
    const half = Math.floor(lines.length * 0.6);
    await writeFile(folder.path('first.csv'), `${lines.slice(0, half).join('\n')}\n`);
    await writeFile(folder.path('last.csv'), `${[lines[0], ...lines.slice(lines.length - half)].join('\n')}\n`);
    const rest = files.filter((file) => file !== name);
    await load(folder.path('overlap-a.sqlite'), [folder.path('first.csv'), folder.path('last.csv'), ...rest]);
    await load(folder.path('overlap-b.sqlite'), [folder.path('last.csv'), ...rest, folder.path('first.csv')]);
    const [a, b] = [await dump('overlap-a.sqlite'), await dump('overlap-b.sqlite')];
    expect(b).toEqual(a);
    const counts = (each: Record<string, unknown>) =>
      Object.values(each['cranks'] as Record<string, { count: number }>).map(({ count }) => count);
    expect(counts(a)).toEqual(counts(whole));
  });

  it('comes back when a file is taken back', async () => {
    const extra = folder.path('more.csv');
    await writeFile(extra, 'unit,time,rest_volts,dip_volts,crank_seconds\nnobody,2026-07-01T06:00:00Z,12.6,8.1,0.9\n');
    await load(folder.path('whole.sqlite'), [extra]);
    expect(await dump('whole.sqlite')).not.toEqual(whole);
    await withStore(folder.path('whole.sqlite'), async (store) => {
      const { importId } = (await store.imports()).find(({ file }) => file === extra)!;
      await store.unload(importId);
      await expect(store.unload(importId)).rejects.toThrow(`unload requires the id of a loaded file, got ${importId}`);
      await loadPaths(store, [fleet], { nowUs: NOW_US });
    });
    expect(await dump('whole.sqlite')).toEqual(whole);
  });
});

describe('killed at any moment and run again', () => {
  it('ends in the same store: ten real kills', { timeout: 120_000 }, async () => {
    const path = folder.path('killed.sqlite');
    const random = createRandom(7, 'kills');
    let killed = 0;
    for (let round = 0; round < 10; round++) {
      const child = spawn(process.execPath, [CLI, 'load', fleet, '--store', path], { stdio: 'ignore' });
      const ended = once(child, 'exit');
      await sleep(350 + random.uniform() * 1400);
      if (child.kill('SIGKILL')) killed++;
      await ended;
    }
    expect(killed).toBeGreaterThanOrEqual(5);
    await load(path, [fleet]);
    expect(await dump('killed.sqlite')).toEqual(whole);
  });
});

describe('while a load runs', () => {
  it('another process reads and writes, and sees no half file', { timeout: 60_000 }, async () => {
    const path = folder.path('busy.sqlite');
    await load(
      path,
      files.filter((file) => file.endsWith('units.csv')),
    );
    const loading = run(process.execPath, [CLI, 'load', fleet, '--store', path]).catch(() => undefined);
    let running = true;
    void loading.finally(() => (running = false));
    const whenWhole = new Map(
      (whole['imports'] as string[]).map((line) => [line.split(' ')[2]!, Number(line.split(' ')[3])]),
    );
    let booked = 0;
    while (running) {
      await withStore(path, async (store) => {
        for (const { sha256, taken } of await store.imports()) expect(taken).toBe(whenWhole.get(sha256));
        const unit = (await store.units())[0]!.unit;
        const day = { bookedOn: '2026-12-01', note: `n${booked}`, createdUs: NOW_US };
        await store.addBooking({ unit, position: '', component: 'battery', ...day });
        booked++;
      });
      await sleep(20);
    }
    await loading;
    expect(booked).toBeGreaterThan(2);
    expect(await withStore(path, async (store) => (await store.bookings()).length)).toBe(booked);
    expect(await dump('busy.sqlite')).toEqual(whole);
  });

  it('a second load of the same folder does no harm', { timeout: 60_000 }, async () => {
    const path = folder.path('two.sqlite');
    const twice = [1, 2].map(async () => run(process.execPath, [CLI, 'load', fleet, '--store', path]));
    await Promise.all(twice);
    expect(await dump('two.sqlite')).toEqual(whole);
  });
});
