import type { MessagePort } from 'node:worker_threads';
import { BatchSlots, NamesReceiver, NamesSender } from './batch-copy.ts';
import type { LogSink, StoreSink } from './sink.ts';
import { UnreadableFile } from '../model/set-aside.ts';

/** Calls that are under way to the other thread at a time: one is filled, one is worked on, the others even things out. */
const AHEAD = 4;

type Call = keyof LogSink | keyof StoreSink;
/** Every call of a sink by what it carries: rows are cloned, batches of columns copied into shared memory. */
const CALLS: Record<Call, 'rows' | 'batch'> = {
  units: 'rows',
  fittedParts: 'rows',
  workOrders: 'rows',
  benchResults: 'rows',
  troubleCodes: 'rows',
  bays: 'rows',
  shopVisits: 'rows',
  setAside: 'rows',
  found: 'rows',
  cranks: 'batch',
  samples: 'batch',
  busSignals: 'batch',
};

type Failure = { kind: 'unreadable' | 'thread_ended' | 'other'; message: string };
export type SentCall = { call: Call; slot: number; given: unknown; names?: ReturnType<NamesSender['next']> };
type Sent = SentCall | { end: unknown } | { failed: Failure };
type Answer = { taken: number } | { failed: Failure };

/** The other side has gone without a word. */
export class ThreadEnded extends Error {}

export function failureOf(error: unknown): Failure {
  const message = error instanceof Error ? error.message : String(error);
  return { kind: kindOf(error), message };
}

function kindOf(error: unknown): Failure['kind'] {
  if (error instanceof UnreadableFile) return 'unreadable';
  return error instanceof ThreadEnded ? 'thread_ended' : 'other';
}

export function errorOf({ kind, message }: Failure): Error {
  if (kind === 'unreadable') return new UnreadableFile(message);
  // A thread whose neighbour died may tell of it before the neighbour's own end is known.
  return kind === 'thread_ended' ? new ThreadEnded(message) : new Error(message);
}

/** A sink each of whose calls goes the same way. */
export function sinkThat(take: (call: Call, given: never) => Promise<void>): LogSink & StoreSink {
  const calls = Object.keys(CALLS) as Call[];
  return Object.fromEntries(calls.map((call) => [call, async (given: never) => take(call, given)])) as LogSink &
    StoreSink;
}

/** A sink whose calls are carried out by whoever replays what is posted, in the same order. */
export class CallSender {
  readonly #post: (sent: SentCall) => void;
  readonly #slots: BatchSlots;
  readonly #names = new NamesSender();
  #failure: Error | null = null;
  readonly sink = sinkThat(async (call, given) => this.#send(call, given));

  constructor(slots: BatchSlots, post: (sent: SentCall) => void) {
    this.#post = post;
    this.#slots = slots;
  }

  /** Every call from now on fails. */
  stop(error: Error): void {
    this.#failure ??= error;
  }

  async #send(call: Call, given: { count: number; names?: string[] }): Promise<void> {
    // Waits while the other side is behind: so memory stays bounded.
    const slot = await this.#slots.free();
    if (this.#failure !== null) {
      this.#slots.giveBack(slot);
      throw this.#failure;
    }
    if (CALLS[call] === 'rows') this.#post({ call, slot, given });
    else if (given.names === undefined) this.#post({ call, slot, given: this.#slots.filledWith(slot, given) });
    else {
      const { names, ...batch } = given;
      this.#post({ call, slot, given: this.#slots.filledWith(slot, batch), names: this.#names.next(names) });
    }
  }
}

/** Carries out what a `CallSender` has posted. */
export class CallReplay {
  readonly #sink: Partial<LogSink & StoreSink>;
  readonly #names = new NamesReceiver();

  constructor(sink: Partial<LogSink & StoreSink>) {
    this.#sink = sink;
  }

  async carryOut({ call, given, names }: SentCall): Promise<void> {
    const act = this.#sink[call] as ((given: unknown) => Promise<void>) | undefined;
    if (act === undefined) throw new Error(`a call requires a sink that knows it, got ${call} (load)`);
    await act(names === undefined ? given : { ...(given as object), names: this.#names.after(names) });
  }
}

/** Does some work that ends in a port: its calls, and what it came to or what went wrong. */
export async function handOn(port: MessagePort, work: (sink: LogSink & StoreSink) => Promise<unknown>): Promise<void> {
  const slots = new BatchSlots(AHEAD);
  const post = (sent: Sent) => port.postMessage(sent);
  port.on('message', (answer: Answer) => {
    if ('failed' in answer) slots.fail(errorOf(answer.failed));
    else slots.giveBack(answer.taken);
  });
  port.on('close', () =>
    slots.fail(new ThreadEnded('reading requires the thread that it hands on to, got its end (load)')),
  );
  try {
    post({ end: await work(new CallSender(slots, post).sink) });
  } catch (error) {
    post({ failed: failureOf(error) });
  }
}

/** Carries out the calls that come through the port, one after the other; gives what the sender ended with. */
export async function replayCalls<End>(port: MessagePort, sink: Partial<LogSink & StoreSink>): Promise<End> {
  const replay = new CallReplay(sink);
  try {
    return await new Promise<End>((resolve, reject) => {
      let last: Promise<void> = Promise.resolve();
      let stopped = false;
      const stop = (error: unknown) => {
        stopped = true;
        reject(error);
      };
      const take = async (sent: Sent) => {
        if (stopped) return;
        if ('failed' in sent) throw errorOf(sent.failed);
        if ('end' in sent) return resolve(sent.end as End);
        await replay.carryOut(sent);
        port.postMessage({ taken: sent.slot } satisfies Answer);
      };
      port.on('message', (sent: Sent) => {
        last = last.then(async () => take(sent)).catch(stop);
      });
      port.on('close', () => {
        last = last.then(() => stop(new ThreadEnded('reading requires a thread that lives, got its end (load)')));
      });
    });
  } catch (error) {
    port.postMessage({ failed: failureOf(error) } satisfies Answer);
    throw error;
  } finally {
    port.close();
  }
}
