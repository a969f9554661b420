import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { finishStale } from '../../etl/loading/finish-stale.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { connect } from '../../etl/store/connection.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { ROOT } from '../support/source-files.ts';
import { storeDump } from '../support/store-dump.ts';
import { load, NOW_US, storeFolder, withStore } from '../support/store-folder.ts';

/** Whatever happens on the way, the same files make the same store. Killed for real: `npm test` has built the CLI. */
const CLI = join(ROOT, '.build/program/cli.js');
const REGISTER_HEADER = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders';

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

  it('comes of a register that is loaded last', async () => {
    const register = files.filter((file) => file.endsWith('units.csv'));
    const path = folder.path('register-last.sqlite');
    const early = await load(
      path,
      files.filter((file) => !register.includes(file)),
    );
    expect(early.waiting.length).toBe(14);
    expect((await load(path, register)).waiting).toEqual([]);
    expect(await dump('register-last.sqlite')).toEqual(whole);
  });

  it('comes back when files are taken back', async () => {
    const path = folder.path('whole.sqlite');
    const { unit, times } = await withStore(path, async (store) => {
      const engine = (await store.engines())[0]!;
      return { unit: engine.unit, times: (await store.finished(engine))!.columns.timeUs };
    });
    const crankMs = times[10]! / 1000 + 600_000;
    const extra = [
      ['cranks.csv', `unit,time,rest_volts,dip_volts,crank_seconds\n${unit},${crankMs},12.6,8.1,0.9\n`],
      ['units.csv', `${REGISTER_HEADER},entered\n${unit},Elsewhere,van,12,1,700,4,2030-01-01\n`],
      ['orders.csv', `work_order,unit,opened,complaint\nX-1,${unit},2026-07-01,no crank\n`],
      ['parts.csv', `unit,component,fitted\nnobody,battery,2026-07-01\n`],
    ].map(([name, text]) => ({ file: folder.path(`extra-${name}`), text: text! }));
    for (const { file, text } of extra) await writeFile(file, text);
    await load(
      path,
      extra.map(({ file }) => file),
    );
    const more = await dump('whole.sqlite');
    for (const part of ['cranks', 'units', 'orders', 'parts', 'waiting', 'imports'])
      expect(more[part]).not.toEqual(whole[part]);
    await withStore(path, async (store) => {
      for (const { importId, file } of await store.imports())
        if (file.includes('extra-')) expect((await store.unload(importId)).importId).toBe(importId);
      await finishStale(store);
    });
    expect(await dump('whole.sqlite')).toEqual(whole);
  });
});

describe('killed at any moment and run again', () => {
  it('ends in the same store: ten real kills', { timeout: 120_000 }, async () => {
    const random = createRandom(7, 'kills');
    const transactions = await transactionsOfLoad(folder.path('counted.sqlite'));
    expect(transactions).toBeGreaterThan(20);
    let halfLoaded = 0;
    for (let store = 0; store < 5; store++) {
      const path = folder.path(`killed-${store}.sqlite`);
      // At most half of the work stands after the first kill, so that the second one has something left to hit.
      for (const withWorkDone of [false, true]) {
        const at = 1 + Math.floor(random.uniform() * 0.5 * transactions);
        expect(await killedLoad(path, { at, withWorkDone })).toBe('SIGKILL');
      }
      halfLoaded += await importsAtWork(path);
      await load(path, [fleet]);
      expect(await importsAtWork(path)).toBe(0);
      expect(await dump(`killed-${store}.sqlite`)).toEqual(whole);
    }
    expect(halfLoaded).toBeGreaterThanOrEqual(1);
  });
});

const DYING = ['--import', pathToFileURL(join(ROOT, '.build/node/tests/support/die-at-transaction.js')).href];

async function transactionsOfLoad(path: string): Promise<number> {
  const ran = spawnSync(process.execPath, [...DYING, CLI, 'load', fleet, '--store', path], { encoding: 'utf8' });
  expect(ran.status).toBe(0);
  return Number(ran.stderr.trimEnd().split('\n').at(-1));
}

/** The signal that ended the load. */
async function killedLoad(path: string, { at, withWorkDone }: { at: number; withWorkDone: boolean }) {
  const how = { DIE_AT_TRANSACTION: String(at), DIE_WITH_WORK_DONE: withWorkDone ? 'yes' : 'no' };
  const options = { stdio: 'ignore', env: { ...process.env, ...how } } as const;
  const [, signal] = await once(
    spawn(process.execPath, [...DYING, CLI, 'load', fleet, '--store', path], options),
    'exit',
  );
  return signal as NodeJS.Signals | null;
}

/** Starts a load in a process of its own; it has begun once the store's file stands. */
async function startLoad(path: string) {
  const child = spawn(process.execPath, [CLI, 'load', fleet, '--store', path], { stdio: 'ignore' });
  const ended = once(child, 'exit');
  for (let waited = 0; !existsSync(path) && waited < 30_000; waited += 5) await sleep(5);
  return { child, ended };
}

/** Imports that are neither visible nor swept. */
async function importsAtWork(path: string): Promise<number> {
  const { sqlite } = connect(path, 'reader');
  try {
    return Number(sqlite.prepare(`select count(*) from imports where state <> 'live'`).pluck().get());
  } finally {
    sqlite.close();
  }
}

describe('while a load runs', () => {
  it('another process reads and writes, and sees no half file', { timeout: 60_000 }, async () => {
    const path = folder.path('busy.sqlite');
    await load(
      path,
      files.filter((file) => file.endsWith('units.csv')),
    );
    const { child, ended } = await startLoad(path);
    const whenWhole = new Map(
      (whole['imports'] as string[]).map((line) => [line.split(' ')[2]!, Number(line.split(' ')[3])]),
    );
    const seen = new Set<number>();
    let booked = 0;
    while (child.exitCode === null) {
      await withStore(path, async (store) => {
        const imports = await store.imports();
        seen.add(imports.length);
        for (const { sha256, taken } of imports) expect(taken).toBe(whenWhole.get(sha256));
        const unit = (await store.units())[0]!.unit;
        const day = { bookedOn: '2026-12-01', note: `n${booked}`, createdUs: NOW_US };
        await store.addBooking({ unit, position: '', component: 'battery', ...day });
        booked++;
      });
      await sleep(20);
    }
    expect(await ended).toEqual([0, null]);
    expect(seen.size).toBeGreaterThan(2);
    expect(await withStore(path, async (store) => (await store.bookings()).length)).toBe(booked);
    expect(await dump('busy.sqlite')).toEqual(whole);
  });

  it('a second load of the same folder does no harm', { timeout: 60_000 }, async () => {
    const path = folder.path('two.sqlite');
    const both = await Promise.all([startLoad(path), startLoad(path)]);
    for (const { ended } of both) expect(await ended).toEqual([0, null]);
    expect(await dump('two.sqlite')).toEqual(whole);
  });

  it('a backup taken meanwhile is a whole store', { timeout: 60_000 }, async () => {
    const path = folder.path('backed-up.sqlite');
    const { child, ended } = await startLoad(path);
    let copies = 0;
    for (; child.exitCode === null; copies++) {
      await withStore(path, async (store) => store.backup(folder.path(`copy-${copies}.sqlite`)));
      await sleep(100);
    }
    expect(await ended).toEqual([0, null]);
    expect(copies).toBeGreaterThan(1);
    for (const copy of [0, copies - 1]) {
      await load(folder.path(`copy-${copy}.sqlite`), [fleet]);
      expect(await dump(`copy-${copy}.sqlite`)).toEqual(whole);
    }
  });
});
