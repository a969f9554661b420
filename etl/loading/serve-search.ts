import { CallReplay, errorOf, failureOf, sinkThat } from './calls.ts';
import type { ReadEnd } from './read-file.ts';
import { throughSignal, type LogSink } from './sink.ts';
import type { SearchAnswer, SearchAsk, SearchTask } from './tasks.ts';

/** Searches what another thread reads: files by turns, each in the order of its rows. */
export function serveSearches({ searches: port }: SearchTask): void {
  const open = new Map<number, (ask: SearchAsk) => void>();
  port.on('message', (ask: SearchAsk) => {
    const { search } = ask;
    const take = open.get(search) ?? begunSearch(search, (answer) => port.postMessage(answer));
    if ('call' in ask) open.set(search, take);
    else open.delete(search);
    take(ask);
  });
}

type End = { resolve: (end: ReadEnd) => void; reject: (error: unknown) => void };

/** Begins the search of one file; gives what takes what is asked of it. */
function begunSearch(search: number, answer: (answer: SearchAnswer) => void): (ask: SearchAsk) => void {
  let replay = new CallReplay({});
  let end: End = { resolve: () => undefined, reject: () => undefined };
  const store = sinkThat(async (call, given) => answer({ search, call, given }));
  const read = async (log: LogSink) => {
    replay = new CallReplay(log);
    return new Promise<ReadEnd>((resolve, reject) => (end = { resolve, reject }));
  };
  throughSignal(store, read).then(
    (found) => answer({ search, end: found }),
    (error: unknown) => answer({ search, failed: failureOf(error) }),
  );
  const take = async (ask: SearchAsk) => {
    if ('end' in ask) end.resolve(ask.end);
    else if ('failed' in ask) end.reject(errorOf(ask.failed));
    else await replay.carryOut(ask).finally(() => answer({ taken: ask.slot }));
  };
  let last: Promise<void> = Promise.resolve();
  return (ask) => (last = last.then(async () => take(ask)).catch(end.reject));
}
