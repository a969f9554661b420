import { parentPort } from 'node:worker_threads';
import { dailyIn, piecesIn, type Said, type Told } from './assess-threads.ts';
import { doingOf, type Doing } from './assess-work.ts';
import { failureOf } from './loading/calls.ts';
import { packedDailies } from './packed-dailies.ts';
import { openStore } from './store/open-store.ts';

/** A thread of an assessment: reads the store, and does what one engine or record needs. Writes nothing. */
type Work = (item: unknown, shared: unknown) => Promise<unknown>;

let opening: Promise<Doing> | null = null;
let work: Promise<{ does: Work; shared: unknown }> | null = null;
let before: Promise<unknown> = Promise.resolve();

parentPort?.on('message', (told: Told) => {
  if ('store' in told) opening = openStore(told.store, { readonly: true }).then((store) => doingOf(store));
  else if ('work' in told) work = opening!.then((doing) => ({ does: doing[told.work] as Work, shared: told.shared }));
  else {
    const mine = work!;
    before = before.then(async () => answer(told, mine));
  }
});

async function answer({ block, items }: Extract<Told, { block: number }>, by: NonNullable<typeof work>): Promise<void> {
  try {
    const { does, shared } = await by;
    const made: unknown[] = [];
    for (const item of items) made.push(await does(item, shared));
    const results = packed(made);
    parentPort!.postMessage({ block, results } satisfies Said, piecesIn(results));
  } catch (error) {
    parentPort!.postMessage({ block, failed: failureOf(error) } satisfies Said);
  }
}

/** Readings with their daily medians in one piece of memory; all else as it is. */
function packed(made: readonly unknown[]): unknown[] {
  const dailies = made.flatMap((each) => dailyIn(each) ?? []);
  if (dailies.length === 0) return [...made];
  const kept = packedDailies(dailies).values();
  return made.map((each) => (dailyIn(each) === null ? each : { ...(each as object), daily: kept.next().value }));
}
