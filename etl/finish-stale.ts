import type { FinishedTable } from './model/crank.ts';
import type { Unit } from './model/unit.ts';
import { finishCranks } from './signal/finish.ts';
import { keptOnsets } from './signal/retention.ts';
import type { Store } from './store/store.ts';

export type FinishOptions = {
  /** Engines finished of all that are stale. */
  onFinish?: ((done: number, total: number) => void) | undefined;
  /** Once aborted no other engine is begun; those that are left stay stale. */
  signal?: AbortSignal | undefined;
};

/**
 * Brings every engine whose measured rows changed up to date: which cranks count, speed, pattern, starts, kept
 * waveforms. One engine at a time, each in one short transaction: it may be killed and taken up again at any moment.
 * Returns how many were finished.
 */
export async function finishStale(store: Store, { onFinish, signal }: FinishOptions = {}): Promise<number> {
  const stale = await store.staleEngines();
  const { keptNewestWaveforms } = await store.settings();
  for (const [index, engine] of stale.entries()) {
    if (signal?.aborted === true) return index;
    // In this order: what becomes known after `measured` marks the engine as stale anew.
    const sources = await store.measured(engine);
    const unit = await store.unit(engine.unit);
    const table = finishCranks(sources, unit);
    await store.writeFinished(engine, table, keptOf(table, unit, keptNewestWaveforms));
    onFinish?.(index + 1, stale.length);
  }
  return stale.length;
}

/** While a unit waits for the register all its waveforms are kept: only the register can tell a slow crank. */
function keptOf(table: FinishedTable, unit: Unit | null, newest: number): Float64Array {
  return unit === null ? table.columns.timeUs.subarray(0, table.count) : keptOnsets(table, newest);
}
