import { assess } from '../etl/assess.ts';
import { startAssessThreads } from '../etl/assess-threads.ts';
import { finishWithJobs } from '../etl/loading/finish-with-jobs.ts';
import { asOf, dayOf, US_PER_DAY, type AsOf } from '../etl/model/time.ts';
import type { Assessment, Store } from '../etl/store/store.ts';
import { rankedDay } from './views/ranked-day.ts';
import { rankingBasis } from './views/ranking-basis.ts';

/** What a date's assessment came to. */
export type AssessedSummary = { asOf: string; units: number; outlooks: number; refused: number };

/** The day of the newest crank or record that is not later than tomorrow: a clock that runs ahead sets no date. */
export async function newestDay(store: Store, nowUs: number): Promise<AsOf> {
  await requireData(store);
  const newestUs = await store.newestKnownUs(nowUs + US_PER_DAY);
  if (newestUs === null)
    throw new RangeError('assess requires a crank or record to tell the date, got neither: give the date (--as-of)');
  const { timeZone } = await store.settings();
  return asOf(dayOf(newestUs, timeZone), timeZone);
}

/** Throws RangeError for a store in which nothing was loaded. */
export async function requireData(store: Store): Promise<void> {
  if ((await store.imports()).length > 0) return;
  throw new RangeError(`assess requires loaded data, got an empty store (${store.path}): load a folder first`);
}

export type AssessAndRankOptions = {
  nowUs: number;
  onProgress?: ((done: number, total: number) => void) | undefined;
  /** Threads at most; 1 if absent. The answer is the same to the last digit. */
  jobs?: number;
};

type Threaded = { jobs: number; onProgress: AssessAndRankOptions['onProgress'] };

/** `assess` with threads of its own, where there is enough to do. */
export async function assessWithJobs(store: Store, day: AsOf, { jobs, onProgress }: Threaded): Promise<Assessment> {
  const threads = await startAssessThreads(store, jobs);
  try {
    return await assess(store, day, { onProgress, workers: threads?.workers });
  } finally {
    await threads?.close();
  }
}

/** Computes trends, outlooks and ranking of a date and stores them under it. */
export async function assessAndRank(store: Store, day: AsOf, options: AssessAndRankOptions): Promise<AssessedSummary> {
  const { nowUs, onProgress, jobs = 1 } = options;
  await finishWithJobs(store, jobs);
  // Read before: a file that is loaded meanwhile makes this assessment stale, as it should.
  const inputs = await store.inputsVersion();
  const counted = await assessAndSave(store, day, { jobs, onProgress, nowUs, inputs });
  const newest = (await store.assessments())[0]?.asOf.label === day.label;
  const basis = await rankingBasis(store);
  const { rows } = await rankedDay(store, day, newest ? nowUs : day.us);
  await store.saveRanking(day.label, basis, rows);
  return { asOf: day.label, ...counted };
}

type Saving = Threaded & { nowUs: number; inputs: string };

/** The assessment itself is let go once it is stored: ranking a large fleet needs the memory. */
async function assessAndSave(store: Store, day: AsOf, { nowUs, inputs, ...threaded }: Saving) {
  const assessment = await assessWithJobs(store, day, threaded);
  await store.saveAssessment(assessment, nowUs, inputs);
  return {
    units: new Set(assessment.outlooks.map(({ unit }) => unit)).size,
    outlooks: assessment.outlooks.length,
    refused: assessment.outlooks.filter(({ survival }) => survival === null).length,
  };
}
