import { MessageChannel, type MessagePort } from 'node:worker_threads';
import { errorOf, replayCalls, ThreadEnded } from './calls.ts';
import { Crew, forFiles, PLACES, type Claim } from './crew.ts';
import type { Kind } from '../model/kinds.ts';
import { finishInThreads } from './finish-in-threads.ts';
import type { Finisher } from './finish-stale.ts';
import type { FoundFile } from './files.ts';
import type { ReadEnd } from './read-file.ts';
import { throughSignal, type LogSink, type StoreSink } from './sink.ts';
import { openHere, type OpenSource, type SourceEnd, type SourceOptions } from './source.ts';
import type { Answer, Ask, FileTask } from './tasks.ts';

export type Threads = {
  open: OpenSource;
  /** Files that can be under way at a time. */
  width: number;
  /** Finishes engines of a store, for `finishStale`. */
  finisher(store: string): (newest: number) => Finisher;
  close(): Promise<void>;
};

/** From this size on a file has a thread for itself. */
export const LARGE_BYTES = 4 * 2 ** 20;

/** Compiled, a thread starts from the file beside this one. Node runs no TypeScript: from the source, no threads. */
const ENTRY = import.meta.url.endsWith('.js') ? new URL('./worker.js', import.meta.url) : null;

/** Kinds that are searched for cranks. */
const SEARCHED: readonly Kind[] = ['waveform', 'can_log'];

type Starting = {
  entry?: URL | null;
  /** Whether this thread reads the large logs too; one thread alone cannot read for more than two that search. */
  readsLogs?: boolean;
};

/**
 * This thread writes, and reads: small files, and the logs that another thread searches. Other large files it has read
 * by another one. Null where no thread can be started. Once `signal` is aborted every file under way is given up.
 */
export function startThreads(jobs: number, signal: AbortSignal, starting: Starting = {}): Threads | null {
  const { entry = ENTRY, readsLogs = true } = starting;
  if (entry === null) return null;
  const crew = new Crew(jobs, entry);
  signal.addEventListener('abort', () => crew.stop(), { once: true });
  const open: OpenSource = async (file, options) => {
    const isLarge = file.bytes >= LARGE_BYTES;
    const opened = await openHere(file, options, (kind) =>
      SEARCHED.includes(kind) ? async (store, read) => searchedBeside(crew, isLarge, { store, read }) : throughSignal,
    );
    if ('unrecognised' in opened || !isLarge || (readsLogs && SEARCHED.includes(opened.reader.kind))) return opened;
    opened.close();
    return openInThread(crew, file, options);
  };
  return {
    open,
    width: forFiles(jobs) * PLACES,
    finisher: (store) => (newest) => finishInThreads(crew.all(), store, newest),
    close: async () => crew.dismiss(),
  };
}

type Searched = { store: StoreSink; read: (log: LogSink) => Promise<ReadEnd> };

async function searchedBeside(crew: Crew, isLarge: boolean, { store, read }: Searched): Promise<SourceEnd> {
  const { hand, release } = await crew.claim(isLarge);
  try {
    return await hand.searches.search(store, read);
  } finally {
    release();
  }
}

async function openInThread(crew: Crew, file: FoundFile, options: SourceOptions): ReturnType<OpenSource> {
  const claim = await crew.claim(true);
  const work = new ThreadWork(claim, file.path, options);
  try {
    const { opened } = await work.opened();
    if ('unrecognised' in opened) {
      work.close();
      return opened;
    }
    return {
      reader: opened.reader,
      hash: async () => (await work.hash()).hash,
      readInto: async (sink) => work.readInto(sink),
      close: () => work.close(),
    };
  } catch (error) {
    work.close();
    throw error;
  }
}

type AnswerTo<Said extends 'opened' | 'hash'> = Extract<Answer, Record<Said, unknown>>;
type Asking = { resolve: (answer: never) => void; reject: (error: Error) => void };

/** One file in the hands of a thread. */
class ThreadWork {
  readonly #claim: Claim;
  readonly #control: MessagePort;
  readonly #calls: MessagePort;
  /** Never resolves; rejects where a thread ends. */
  readonly #broken: Promise<never>;
  #asking: Asking | null = null;
  #closed = false;

  constructor(claim: Claim, path: string, { onBytes, read }: SourceOptions) {
    const [control, calls] = [new MessageChannel(), new MessageChannel()];
    this.#claim = claim;
    this.#control = control.port1;
    this.#calls = calls.port1;
    this.#control.on('message', (answer: Answer) => {
      if ('bytes' in answer) onBytes(answer.bytes);
      else if ('failed' in answer) this.#asking?.reject(errorOf(answer.failed));
      else this.#asking?.resolve(answer as never);
    });
    this.#broken = brokenOff(claim, path);
    this.#broken.catch(() => undefined);
    const task: FileTask = { path, read, control: control.port2, out: calls.port2 };
    claim.hand.worker.postMessage(task, [task.control, task.out]);
  }

  async opened(): Promise<AnswerTo<'opened'>> {
    return this.#answer();
  }

  async hash(): Promise<AnswerTo<'hash'>> {
    this.#ask('hash');
    return this.#answer();
  }

  async readInto(sink: StoreSink): Promise<SourceEnd> {
    const end = replayCalls<SourceEnd>(this.#calls, sink).catch(async (error: unknown) =>
      // Why it ended is known in a moment, and better.
      error instanceof ThreadEnded ? this.#broken : Promise.reject(error),
    );
    this.#ask('read');
    return Promise.race([end, this.#broken]);
  }

  #ask(asked: Ask): void {
    this.#control.postMessage(asked);
  }

  async #answer<Said>(): Promise<Said> {
    const answer = new Promise<Said>((resolve, reject) => (this.#asking = { resolve, reject }));
    return Promise.race([answer, this.#broken]);
  }

  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#control.close();
    this.#calls.close();
    this.#claim.release();
  }
}

async function brokenOff({ hand }: Claim, path: string): Promise<never> {
  throw new Error(`file requires a thread that reads it to its end, got ${await hand.ended} (${path})`);
}
