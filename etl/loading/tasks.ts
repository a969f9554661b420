import type { MessagePort } from 'node:worker_threads';
import type { FinishedEngine } from './finish-stale.ts';
import type { failureOf, SentCall } from './calls.ts';
import type { ReadEnd, ReaderIdentity } from './read-file.ts';
import type { SourceEnd } from './source.ts';
import type { ReadOptions } from '../readers/reader.ts';

type Failure = ReturnType<typeof failureOf>;

/**
 * A file to serve: it is opened and that is answered at once, what else is asked about it comes through `control`, what
 * is read and found in it goes out.
 */
export type FileTask = { path: string; read: ReadOptions; control: MessagePort; out: MessagePort };
/** Searches of what another thread reads, all through one port. */
export type SearchTask = { searches: MessagePort };
/** Engines of a store to finish, as they come through the port. */
export type FinishTask = { store: string; newest: number; engines: MessagePort };
/** What a thread of a load is given. */
export type Task = FileTask | SearchTask | FinishTask;

/** Of one search: calls of a reader, and what they ended with. */
export type SearchAsk = { search: number } & (SentCall | { end: ReadEnd } | { failed: Failure });
/** A batch that has been taken, calls for the store, and what the search ended with. */
export type SearchAnswer =
  | { taken: number }
  | ({ search: number } & (Pick<SentCall, 'call' | 'given'> | { end: SourceEnd } | { failed: Failure }));

export type FinishAnswer = { engineId: number; finished: FinishedEngine } | { engineId: number; failed: Failure };

/** What the main thread asks about a file, in this order; `hash` may be left out. What was read ends in the port. */
export type Ask = 'hash' | 'read';

export type Answer =
  | { bytes: number }
  | { opened: { reader: ReaderIdentity } | { unrecognised: string } }
  | { hash: string | null }
  | { failed: Failure };
