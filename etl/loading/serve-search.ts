import { handOn, replayCalls } from './calls.ts';
import { throughSignal } from './sink.ts';
import type { ReadEnd } from './read-file.ts';
import type { SearchTask } from './tasks.ts';

/** Searches what another thread reads. */
export function serveSearch({ from, out }: SearchTask): void {
  void handOn(out, async (store) => throughSignal(store, async (log) => replayCalls<ReadEnd>(from, log)));
}
