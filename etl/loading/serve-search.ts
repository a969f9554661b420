import { handOn, replayCalls } from './calls.ts';
import { throughSignal, type LogSink, type StoreSink } from './sink.ts';
import type { ReadEnd } from './read-file.ts';
import type { SourceEnd } from './source.ts';
import type { SearchTask } from './tasks.ts';

/** Searches what another thread reads. */
export function serveSearch({ from, out }: SearchTask): void {
  void handOn(out, async (store) => readAndSearch(store, async (log) => replayCalls<ReadEnd>(from, log)));
}

export async function readAndSearch(store: StoreSink, read: (log: LogSink) => Promise<ReadEnd>): Promise<SourceEnd> {
  const log = throughSignal(store);
  const end = await read(log);
  return { ...end, bySignal: await log.close() };
}
