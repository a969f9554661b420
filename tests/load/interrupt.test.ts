import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { connect } from '../../etl/store/connection.ts';
import { writeLog } from '../support/invented-logs.ts';
import { ROOT } from '../support/source-files.ts';
import { storeDump } from '../support/store-dump.ts';
import { load, storeFolder, withStore } from '../support/store-folder.ts';

/** Ctrl-C on a real process: `npm test` has built the command line. */
const CLI = join(ROOT, '.build/program/cli.js');

let folder: Awaited<ReturnType<typeof storeFolder>>;
let logs = '';
let whole: Record<string, unknown>;

beforeAll(async () => {
  folder = await storeFolder();
  logs = folder.path('logs');
  await mkdir(logs);
  const plan = { units: 5, shape: { restSeconds: 1, seconds: 8 }, betweenSeconds: 60, order: 'in_turn' } as const;
  await writeLog(join(logs, 'a-small.csv'), { ...plan, megabytes: 0.5 });
  await writeLog(join(logs, 'b-large.csv'), { ...plan, megabytes: 60, firstUnit: 5 });
  await load(folder.path('whole.sqlite'), [logs]);
  whole = await withStore(folder.path('whole.sqlite'), storeDump);
});
afterAll(async () => folder.remove());

type Counts = { loading: number; live: number };

function countsOf(path: string): Counts {
  if (!existsSync(path)) return { loading: 0, live: 0 };
  const { sqlite } = connect(path, 'reader');
  try {
    const count = (state: string) =>
      Number(sqlite.prepare('select count(*) from imports where state = ?').pluck().get(state));
    return { loading: count('loading'), live: count('live') };
  } catch {
    return { loading: 0, live: 0 }; // no tables yet
  } finally {
    sqlite.close();
  }
}

/** Starts a load and waits until the small file is in and the large one under way. */
async function loadUnderWay(path: string, jobs: number) {
  const words = [CLI, 'load', logs, '--store', path, '--jobs', String(jobs)];
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'ignore', 'pipe'] });
  let said = '';
  child.stderr.on('data', (text: Buffer) => (said += text.toString()));
  const ended = once(child, 'close') as Promise<[number | null, string | null]>;
  for (let waited = 0; waited < 30_000; waited += 3) {
    const { loading, live } = countsOf(path);
    if (loading === 1 && live === 1) break;
    await sleep(3);
  }
  return { child, ended, said: () => said };
}

describe('a load that is interrupted', () => {
  it.each([
    [1, 'SIGINT'],
    [2, 'SIGINT'],
    [2, 'SIGTERM'],
  ] as const)('with %i jobs by %s: what is in stays, the rest goes, and it goes on', async (jobs, signal) => {
    const path = folder.path(`interrupted-${jobs}-${signal}.sqlite`);
    const { child, ended, said } = await loadUnderWay(path, jobs);
    child.kill(signal);
    expect(await ended).toEqual([130, null]);
    expect(said()).toMatch(/stopped: \d+ rows of 1 file in the store; run it again to go on\n$/);
    expect(countsOf(path)).toEqual({ loading: 0, live: 1 });
    const again = await load(path, [logs]);
    expect(again.files.map(({ result }) => result)).toEqual(['already', 'loaded']);
    expect(await withStore(path, storeDump)).toEqual(whole);
  });

  it('twice ends at once, and the next load puts the store in order', async () => {
    const path = folder.path('twice.sqlite');
    const { child, ended } = await loadUnderWay(path, 2);
    child.kill('SIGINT');
    await sleep(1);
    child.kill('SIGINT');
    const [code, signal] = await ended;
    expect(code === 130 || signal === 'SIGINT').toBe(true);
    await load(path, [logs]);
    expect(countsOf(path)).toEqual({ loading: 0, live: 2 });
    expect(await withStore(path, storeDump)).toEqual(whole);
  });
});
