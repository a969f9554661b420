import { spawnSync } from 'node:child_process';
import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadFile } from '../../etl/loading/file.ts';
import { findFiles } from '../../etl/loading/files.ts';
import type { LoadReport } from '../../etl/loading/report.ts';
import { startThreads } from '../../etl/loading/threads.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { writeLog } from '../support/invented-logs.ts';
import { ROOT } from '../support/source-files.ts';
import { storeDump } from '../support/store-dump.ts';
import { NOW_US, storeFolder, withStore } from '../support/store-folder.ts';

/** Threads run compiled: `npm test` has built them. */
const CLI = join(ROOT, '.build/program/cli.js');
const WORKER = join(ROOT, '.build/program/worker.js');

let folder: Awaited<ReturnType<typeof storeFolder>>;
let logs = '';
const large = () => join(logs, 'large.csv');
const largeRows = () => folder.path('rows.csv');

beforeAll(async () => {
  folder = await storeFolder();
  logs = folder.path('logs');
  await simulateFleet({ units: 10, days: 60, seed: 11, out: logs, waveformShare: 0.1 });
  // Over the size from which a file has a thread for itself.
  const shape = { restSeconds: 2, seconds: 9 };
  await writeLog(large(), { megabytes: 18, units: 7, shape, betweenSeconds: 300, order: 'in_turn' });
  await troubled(large());
  await copyFile(large(), join(logs, 'zz-the-same.csv'));
  const some = (await readFile(large())).subarray(0, 2e6);
  await writeFile(join(logs, 'cut.csv.gz'), gzipSync(some).subarray(0, -5000));
  await writeFile(join(logs, 'rubbish.csv'), 'date;town\n1;2\n');
});
afterAll(async () => folder.remove());

/** Rows whose clock runs back, rows of rubbish, and a unit whose name has a quote. */
async function troubled(path: string): Promise<void> {
  const lines = (await readFile(path, 'utf8')).split('\n');
  for (let line = 5000; line < lines.length - 1; line += 9973) {
    lines[line] = [lines[line - 40]!, 'UNIT-1,yesterday,12,1', '"a ""b""",2026-01-01T00:00:00Z,12.5,', ''][line % 4]!;
  }
  await writeFile(path, lines.join('\n'));
}

function loadWith(words: string[]): LoadReport {
  const ran = spawnSync(process.execPath, [CLI, 'load', ...words, '--json'], { encoding: 'utf8' });
  expect([ran.status, ran.stderr]).toEqual([1, expect.any(String)]);
  return JSON.parse(ran.stdout) as LoadReport;
}

const withoutIds = (report: LoadReport) => ({
  ...report,
  files: report.files.map(({ importId: _, ...file }) => file),
});

describe('the number of jobs', () => {
  it('changes neither the store nor the report', { timeout: 180_000 }, async () => {
    const [one, ...more] = ['1', '2', '4'].map((jobs) => ({
      report: withoutIds(loadWith([logs, '--jobs', jobs, '--store', folder.path(`jobs-${jobs}.sqlite`)])),
      store: folder.path(`jobs-${jobs}.sqlite`),
    }));
    expect(one!.report.files.find(({ file }) => file === large())).toMatchObject({
      result: 'loaded',
      kind: 'waveform',
      cranks: expect.any(Number),
    });
    expect(one!.report.setAside).toBeGreaterThan(20);
    expect(one!.report.files.map(({ result }) => result)).toContain('already');
    const whole = await withStore(one!.store, storeDump);
    // Enough engines and rows for the threads to help with finishing.
    expect(Object.keys(whole['cranks'] as object).length).toBeGreaterThanOrEqual(16);
    const finished = Object.values(whole['cranks'] as Record<string, { count: number }>);
    expect(finished.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThanOrEqual(2000);
    for (const { report, store } of more) {
      expect(report).toEqual(one!.report);
      expect(await withStore(store, storeDump)).toEqual(whole);
    }
  });

  it('does not depend on the order in which files are named', { timeout: 120_000 }, async () => {
    const { files } = findFiles([logs]);
    const paths = files.map(({ path }) => path).toReversed();
    loadWith([...paths, '--jobs', '2', '--store', folder.path('reversed.sqlite')]);
    const dump = await withStore(folder.path('reversed.sqlite'), storeDump);
    expect(dump).toEqual(await withStore(folder.path('jobs-1.sqlite'), storeDump));
  });

  it('is a whole number from 1 to 64', () => {
    for (const jobs of ['0', '65', '1.5', 'two']) {
      const ran = spawnSync(process.execPath, [CLI, 'load', logs, '--jobs', jobs, '--store', folder.path('no.sqlite')]);
      expect([ran.status, String(ran.stderr)]).toEqual([
        2,
        `--jobs requires a whole number from 1 to 64, got ${jobs} (--jobs)\n`,
      ]);
    }
  });
});

/** What a thread is given to do, a file to read or what this thread reads to search, and the port that it answers by. */
const GIVEN = { reading: 'out', searching: 'searches' };
/** Batches of rows that a reader hands on. */
const ROWS = 220_000;

async function writeRows(path: string): Promise<void> {
  const rows = Array.from({ length: ROWS }, (_, row) => {
    const time = new Date(Date.UTC(2026, 0, 1) + row * 60_000).toISOString();
    return `UNIT-${row % 50},${time},12.6,9.${row % 10},10.4,0.8,started\n`;
  });
  await writeFile(path, `unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,outcome\n${rows.join('')}`);
}

describe('a thread that dies', () => {
  /** The real thread, which ends in place of the call that it would send on after so many. */
  async function dyingWorker(role: keyof typeof GIVEN, calls: number): Promise<URL> {
    const entry = folder.path(`dying-${role}-${calls}.mjs`);
    const text = `import { parentPort } from 'node:worker_threads';
      await import(${JSON.stringify(pathToFileURL(WORKER).href)});
      parentPort.once('message', (task) => {
        const port = task[${JSON.stringify(GIVEN[role])}];
        if (port === undefined) return;
        const send = port.postMessage.bind(port);
        let sent = 0;
        port.postMessage = (...call) => (sent++ === ${calls} ? process.exit(3) : send(...call));
      });`;
    await writeFile(entry, text);
    return pathToFileURL(entry);
  }

  it.each([
    ['reading', 0],
    ['reading', 3],
    ['reading', 12],
    ['searching', 0],
    ['searching', 3],
    ['searching', 30],
  ] as const)('%s, after %i calls, costs its file, of which nothing is seen', async (role, calls) => {
    const { signal } = new AbortController();
    const threads = startThreads(2, signal, { entry: await dyingWorker(role, calls) })!;
    const path = folder.path(`died-${role}-${calls}.sqlite`);
    const file = role === 'reading' ? largeRows() : large();
    if (role === 'reading') await writeRows(file);
    const { files } = findFiles([file]);
    const report = await withStore(path, async (store) => {
      const context = { store, open: threads.open, known: [], onBytes: () => undefined, nowUs: NOW_US, profile: null };
      return loadFile(files[0]!, { ...context, signal, turn: Promise.resolve() });
    });
    await threads.close();
    expect(report).toMatchObject({ file, result: 'unreadable', taken: 0, setAside: 1 });
    expect(report!.reasons[0]!.reason).toMatch(
      /requires a thread that (reads|searches) it to its end, got exit code 3/,
    );
    await withStore(path, async (store) => {
      expect(await store.imports()).toEqual([]);
      expect(await store.engines()).toEqual([]);
      expect(await store.waiting()).toEqual([]);
    });
  });
});
