import type { MessagePort } from 'node:worker_threads';
import type { FinishedEngine } from './finish-stale.ts';
import type { failureOf } from './calls.ts';
import type { ReaderIdentity } from './read-file.ts';
import type { ReadOptions } from '../readers/reader.ts';

/**
 * A file to serve: it is opened and that is answered at once, what else is asked about it comes through `control`, what
 * is read of it goes out.
 */
export type FileTask = { path: string; read: ReadOptions; control: MessagePort; out: MessagePort; searches: boolean };
/** A stream of calls to search on its way to the next thread. */
export type SearchTask = { from: MessagePort; out: MessagePort };
/** Engines of a store to finish, as they come through the port. */
export type FinishTask = { store: string; newest: number; engines: MessagePort };
/** What a thread of a load is given. */
export type Task = FileTask | SearchTask | FinishTask;

export type FinishAnswer =
  { engineId: number; finished: FinishedEngine } | { engineId: number; failed: ReturnType<typeof failureOf> };

/** What the main thread asks about a file, in this order; `hash` may be left out. What was read ends in the port. */
export type Ask = 'hash' | 'read';

export type Answer =
  | { bytes: number }
  | { opened: { reader: ReaderIdentity } | { unrecognised: string } }
  | { hash: string | null }
  | { failed: ReturnType<typeof failureOf> };
