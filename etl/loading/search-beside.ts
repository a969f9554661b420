import { MessageChannel, type MessagePort, type Worker } from 'node:worker_threads';
import { BatchSlots } from './batch-copy.ts';
import { CallSender, errorOf, failureOf } from './calls.ts';
import type { ReadEnd } from './read-file.ts';
import type { LogSink, StoreSink } from './sink.ts';
import type { SourceEnd } from './source.ts';
import type { SearchAnswer, SearchAsk, SearchTask } from './tasks.ts';

/** Batches under way to the thread, of all its files: what is read while it starts, and to even things out. */
const AHEAD = 12;

/** `ended` settles when it has, with why. */
type Thread = { worker: Worker; ended: Promise<string> };
type Open = {
  store: StoreSink;
  sender: CallSender;
  /** Settles when the store has all that has come. */
  stored: Promise<void>;
  end: (end: SourceEnd) => void;
  fail: (error: Error) => void;
};

/**
 * A thread that searches what is read here: any number of files at a time through one port, in memory that is used
 * again. A channel and memory of its own cost a small file half a
 * millisecond of two and a half.
 */
export class SearchBeside {
  readonly #port: MessagePort;
  readonly #slots = new BatchSlots(AHEAD);
  readonly #open = new Map<number, Open>();
  #last = 0;
  #failure: Error | null = null;

  constructor({ worker, ended }: Thread) {
    const { port1, port2 } = new MessageChannel();
    this.#port = port1;
    this.#port.on('message', (answer: SearchAnswer) => this.#take(answer));
    worker.postMessage({ searches: port2 } satisfies SearchTask, [port2]);
    void ended.then((why) => this.#broken(why));
  }

  /** What `read` gives goes through the search, and what that gives to the store. */
  async search(store: StoreSink, read: (log: LogSink) => Promise<ReadEnd>): Promise<SourceEnd> {
    if (this.#failure !== null) throw this.#failure;
    const search = ++this.#last;
    const post = (ask: SearchAsk) => this.#port.postMessage(ask);
    const sender = new CallSender(this.#slots, (sent) => post({ search, ...sent }));
    const done = new Promise<SourceEnd>((end, fail) =>
      this.#open.set(search, { store, sender, stored: Promise.resolve(), end, fail }),
    );
    // Where reading fails first it is of no interest.
    done.catch(() => undefined);
    try {
      post({ search, end: await read(sender.sink) });
      return await done;
    } catch (error) {
      post({ search, failed: failureOf(error) });
      throw error;
    } finally {
      this.#open.delete(search);
    }
  }

  #take(answer: SearchAnswer): void {
    if ('taken' in answer) return this.#slots.giveBack(answer.taken);
    const open = this.#open.get(answer.search);
    if (open === undefined) return;
    if ('failed' in answer) return stop(open, errorOf(answer.failed));
    const take = async () => {
      if ('end' in answer) open.end(answer.end);
      else await (open.store[answer.call as keyof StoreSink] as (given: unknown) => Promise<void>)(answer.given);
    };
    open.stored = open.stored.then(take).catch((error: Error) => stop(open, error));
  }

  #broken(why: string): void {
    const error = new Error(`file requires a thread that searches it to its end, got ${why} (load)`);
    this.#failure = error;
    this.#slots.fail(error);
    for (const open of this.#open.values()) stop(open, error);
  }
}

function stop({ sender, fail }: Open, error: Error): void {
  sender.stop(error);
  fail(error);
}
