import type { MessagePort } from 'node:worker_threads';
import type { failureOf } from './load-calls.ts';
import type { ReaderIdentity } from './load-source.ts';
import type { ReadOptions } from './readers/reader.ts';

/** What a thread of a load is given: a file to serve, or a stream of calls to search on its way to the next thread. */
export type Task =
  | { path: string; read: ReadOptions; control: MessagePort; out: MessagePort; searches: boolean }
  | { from: MessagePort; out: MessagePort };

/** What the main thread asks about a file, in this order; `hash` may be left out. */
export type Ask = 'open' | 'hash' | 'read';

export type Answer =
  | { bytes: number }
  | { opened: { reader: ReaderIdentity } | { unrecognised: string } }
  | { hash: string | null }
  | { done: true }
  | { failed: ReturnType<typeof failureOf> };
