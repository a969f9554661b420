import type { FinishedTable } from '../model/crank.ts';
import { groupBy } from '../model/group-by.ts';
import type { Engine, Unit } from '../model/unit.ts';
import { finishCranks } from '../signal/finish.ts';
import { keptOnsets } from '../signal/retention.ts';
import type { FinishedWrite, SpelledSource, Store } from '../store/store.ts';

/** What is written of an engine, and how it stood before its rows were read. */
export type FinishedEngine = Omit<Required<FinishedWrite>, 'engine'>;

/** Reads and finishes engines somewhere else, `width` at a time; this thread writes. */
export type Finisher = { width: number; finish(engine: Engine): Promise<FinishedEngine>; close(): void };

export type FinishOptions = {
  /** Engines finished of all that are stale. */
  onFinish?: ((done: number, total: number) => void) | undefined;
  /** Once aborted no other engine is begun; those that are left stay stale. */
  signal?: AbortSignal | undefined;
  /** Begins the help of other threads; without it all is done here. `newest`: waveforms kept for certain. */
  finisher?: ((newest: number) => Finisher) | undefined;
};

/** With less to finish than this no help is sought: each thread would open the store for it, which takes as long. */
const ENGINES_FOR_HELP = 16;
const ROWS_FOR_HELP = 2_000;
/** Engines, or rows of them, that are written at once: a transaction costs as much as a small engine. */
const ENGINES_AT_ONCE = 32;
const ROWS_AT_ONCE = 5_000;

/**
 * Brings every engine whose measured rows changed up to date: which cranks count, speed, pattern, starts, kept
 * waveforms. Some engines at a time in one short transaction: it may be killed and taken up again at any moment. Returns
 * how many were finished.
 */
export async function finishStale(store: Store, options: FinishOptions = {}): Promise<number> {
  const { onFinish, signal } = options;
  const stale = await store.staleEngines();
  const finisher = await finisherFor(store, stale.length, options);
  const todo = stale.values();
  let done = 0;
  let waiting: FinishedWrite[] = [];
  const write = async () => {
    const finished = waiting;
    waiting = [];
    await store.writeFinishedAll(finished);
    for (const _ of finished) {
      done += 1;
      onFinish?.(done, stale.length);
    }
  };
  const lane = async () => {
    for (const engine of todo) {
      if (signal?.aborted === true) return;
      // In two steps: while this lane waits another one may write, and `waiting` be another list by then.
      const finished = await finisher.finish(engine).catch((error: unknown) => {
        // Asked to stop, the threads end at once, whatever they are at.
        if (signal?.aborted === true) return null;
        throw error;
      });
      if (finished === null) return;
      waiting.push({ engine, ...finished });
      const rows = waiting.reduce((sum, { table }) => sum + table.count, 0);
      if (waiting.length >= ENGINES_AT_ONCE || rows >= ROWS_AT_ONCE) await write();
    }
  };
  try {
    await Promise.all(Array.from({ length: finisher.width }, lane));
    if (waiting.length > 0) await write();
  } finally {
    finisher.close();
  }
  return done;
}

async function finisherFor(store: Store, engines: number, { finisher }: FinishOptions): Promise<Finisher> {
  const { keptNewestWaveforms } = await store.settings();
  if (finisher !== undefined && engines >= ENGINES_FOR_HELP && (await store.staleRows()) >= ROWS_FOR_HELP)
    return finisher(keptNewestWaveforms);
  const finish = async (engine: Engine) => finishedEngine(store, engine, keptNewestWaveforms);
  return { width: 1, finish, close: () => undefined };
}

/** In this order: what becomes known after the standing is read marks the engine as stale anew. */
export async function finishedEngine(store: Store, engine: Engine, newest: number): Promise<FinishedEngine> {
  const standing = await store.standing(engine);
  const sources = await store.measured(engine);
  const unit = await store.unit(engine.unit);
  const table = finishCranks(sources, unit);
  return { standing, table, keep: keptOf({ table, sources, unit }, newest) };
}

type Finished = { table: FinishedTable; sources: readonly SpelledSource[]; unit: Unit | null };

/**
 * While a unit waits for the register all its waveforms are kept: only the register can tell a slow crank. Each spelling
 * of a unit keeps what it would keep alone: the alias may be taken back.
 */
function keptOf({ table, sources, unit }: Finished, newest: number): Float64Array {
  if (unit === null) return table.columns.timeUs.slice(0, table.count);
  const bySpelling = [...groupBy(sources, ({ spelling }) => spelling).values()];
  if (bySpelling.length < 2) return keptOnsets(table, newest);
  return Float64Array.from(bySpelling.flatMap((own) => [...keptOnsets(finishCranks(own, unit), newest)])).sort();
}
