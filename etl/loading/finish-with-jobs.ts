import { finishStale, type FinishOptions } from './finish-stale.ts';
import { startThreads } from './threads.ts';
import type { Store } from '../store/store.ts';

/** With fewer stale engines a thread would take longer to start than to finish its share. */
const ENGINES_FOR_THREADS = 100;

/** `finishStale` with threads of its own, where there is enough to do: what a killed load has left behind. */
export async function finishWithJobs(store: Store, jobs: number, options: FinishOptions = {}): Promise<number> {
  const stale = await store.staleEngines();
  const never = new AbortController().signal;
  const threads = jobs < 2 || stale.length < ENGINES_FOR_THREADS ? null : startThreads(jobs, never);
  try {
    return await finishStale(store, { ...options, finisher: threads?.finisher(store.path) });
  } finally {
    await threads?.close();
  }
}
