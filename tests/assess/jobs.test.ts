import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { startAssessThreads } from '../../etl/assess-threads.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Assessment, Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { ROOT } from '../support/source-files.ts';

/** Threads run compiled: `npm test` has built them. */
const ENTRY = pathToFileURL(join(ROOT, '.build/program/assess-worker.js'));
const DAY = asOf('2026-10-31');

let folder = '';
let store: Store;
let alone: Assessment;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'assess-jobs-'));
  await simulateFleet({ units: 40, days: 300, seed: 11, out: join(folder, 'fleet'), waveformShare: 0 });
  store = await openStore(join(folder, 'store.sqlite'));
  await loadPaths(store, [join(folder, 'fleet')], { nowUs: asOf('2026-11-01').us });
  alone = await assess(store, DAY);
});
afterAll(async () => {
  store.close();
  await rm(folder, { recursive: true, force: true });
});

async function withJobs(jobs: number, entry = ENTRY): Promise<{ assessment: Assessment; progress: number[] }> {
  const threads = (await startAssessThreads(store, jobs, { entry, leastEngines: 1 }))!;
  const progress: number[] = [];
  try {
    const onProgress = (done: number) => void progress.push(done);
    return { assessment: await assess(store, DAY, { workers: threads.workers, onProgress }), progress };
  } finally {
    await threads.close();
  }
}

describe('the number of jobs', () => {
  it.each([2, 3, 5])('%i: not a digit of the assessment changes', async (jobs) => {
    const { assessment, progress } = await withJobs(jobs);
    expect(assessment).toEqual(alone);
    expect(progress.at(-1)).toBe((await store.engines()).length);
    expect(progress).toEqual(progress.toSorted((a, b) => a - b));
  });

  it('the fleet has something to say: trends, forecasts and more engines than one block', () => {
    expect(alone.trends.some(({ standing }) => standing === 'ok')).toBe(true);
    expect(alone.outlooks.filter(({ survival }) => survival !== null).length).toBeGreaterThan(60);
  });

  it('one job, few engines or code that is not compiled: no thread', async () => {
    expect(await startAssessThreads(store, 1, { entry: ENTRY, leastEngines: 1 })).toBeNull();
    expect(await startAssessThreads(store, 4, { entry: ENTRY })).toBeNull();
    expect(await startAssessThreads(store, 4, { leastEngines: 1 })).toBeNull();
  });

  it('a thread that ends takes the assessment with it, aloud', async () => {
    const broken = pathToFileURL(join(folder, 'no-such-thread.js'));
    await expect(withJobs(2, broken)).rejects.toThrow('assess requires a thread that lives, got its end: ');
  });
});
