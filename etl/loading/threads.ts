import { MessageChannel, type MessagePort } from 'node:worker_threads';
import { errorOf, replayCalls, ThreadEnded } from './calls.ts';
import { Crew, PLACES, type Claim } from './crew.ts';
import { finishInThreads } from './finish-in-threads.ts';
import type { Finisher } from './finish-stale.ts';
import type { FoundFile } from './files.ts';
import type { StoreSink } from './sink.ts';
import type { OpenSource, SourceEnd, SourceOptions } from './source.ts';
import type { Answer, Ask, FileTask, Task } from './tasks.ts';

export type Threads = {
  open: OpenSource;
  /** Files that can be under way at a time. */
  width: number;
  /** Finishes engines of a store, for `finishStale`. */
  finisher(store: string): (newest: number) => Finisher;
  close(): Promise<void>;
};

/** From this size on a file is read by one thread and searched by another. */
export const LARGE_BYTES = 4 * 2 ** 20;

/** Compiled, a thread starts from the file beside this one. Node runs no TypeScript: from the source, no threads. */
const ENTRY = import.meta.url.endsWith('.js') ? new URL('./worker.js', import.meta.url) : null;

/** Null where no thread can be started. Once `signal` is aborted every file under way is given up. */
export function startThreads(jobs: number, signal: AbortSignal, entry: URL | null = ENTRY): Threads | null {
  if (entry === null) return null;
  const crew = new Crew(jobs, entry);
  signal.addEventListener('abort', () => crew.stop(), { once: true });
  return {
    open: async (file, options) => openInThreads(crew, file, options),
    width: jobs * PLACES,
    finisher: (store) => (newest) => finishInThreads(crew.all(), store, newest),
    close: async () => crew.dismiss(),
  };
}

async function openInThreads(crew: Crew, file: FoundFile, options: SourceOptions): ReturnType<OpenSource> {
  const claim = await crew.claim(file.bytes >= LARGE_BYTES);
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

/** One file in the hands of one thread, or of two. */
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
    handOut(claim, { path, read, control: control.port2, out: calls.port2 });
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

async function brokenOff({ reading, searching }: Claim, path: string): Promise<never> {
  const why = await Promise.race([reading.ended, ...(searching === null ? [] : [searching.ended])]);
  throw new Error(`file requires a thread that reads it to its end, got ${why} (${path})`);
}

function handOut({ reading, searching }: Claim, { out, ...task }: Omit<FileTask, 'searches'>): void {
  if (searching === null) {
    give(reading, { ...task, out, searches: true }, [task.control, out]);
    return;
  }
  const between = new MessageChannel();
  give(reading, { ...task, out: between.port1, searches: false }, [task.control, between.port1]);
  give(searching, { from: between.port2, out }, [between.port2, out]);
}

function give({ worker }: Claim['reading'], task: Task, ports: MessagePort[]): void {
  worker.postMessage(task, ports);
}
