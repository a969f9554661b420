import type { MessagePort } from 'node:worker_threads';
import { BatchSlot, NamesReceiver, NamesSender } from './batch-copy.ts';
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
type Sent =
  | { call: Call; slot: number; given: unknown; names?: ReturnType<NamesSender['next']> }
  | { end: unknown }
  | { failed: Failure };
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

/** A sink whose calls are carried out by whoever replays the other end of the port, in the same order. */
export class CallSender {
  readonly #port: MessagePort;
  readonly #slots = Array.from({ length: AHEAD }, () => new BatchSlot());
  readonly #free = Array.from({ length: AHEAD }, (_, slot) => slot);
  readonly #names = new NamesSender();
  #wake: () => void = () => undefined;
  #failure: Error | null = null;

  constructor(port: MessagePort) {
    this.#port = port;
    port.on('message', (answer: Answer) => {
      if ('failed' in answer) this.#failure ??= errorOf(answer.failed);
      else this.#free.push(answer.taken);
      this.#wake();
    });
    port.on('close', () => {
      this.#failure ??= new ThreadEnded('reading requires the thread that it hands on to, got its end (load)');
      this.#wake();
    });
  }

  get sink(): LogSink & StoreSink {
    const calls = Object.entries(CALLS) as [Call, 'rows' | 'batch'][];
    return Object.fromEntries(
      calls.map(([call, carries]) => [call, async (given: never) => this.#send(call, carries, given)]),
    ) as LogSink & StoreSink;
  }

  end(end: unknown): void {
    this.#port.postMessage({ end } satisfies Sent);
  }

  fail(error: unknown): void {
    this.#port.postMessage({ failed: failureOf(error) } satisfies Sent);
  }

  async #send(call: Call, carries: 'rows' | 'batch', given: { count: number; names?: string[] }): Promise<void> {
    const slot = await this.#freeSlot();
    if (carries === 'rows') this.#post({ call, slot, given });
    else if (given.names === undefined) this.#post({ call, slot, given: this.#slots[slot]!.filledWith(given) });
    else {
      const { names, ...batch } = given;
      this.#post({ call, slot, given: this.#slots[slot]!.filledWith(batch), names: this.#names.next(names) });
    }
  }

  #post(sent: Sent): void {
    this.#port.postMessage(sent);
  }

  /** Waits while the other side is behind: so memory stays bounded. */
  async #freeSlot(): Promise<number> {
    for (;;) {
      if (this.#failure !== null) throw this.#failure;
      const slot = this.#free.shift();
      if (slot !== undefined) return slot;
      await new Promise<void>((resolve) => (this.#wake = resolve));
    }
  }
}

/** Does some work that ends in a port: its calls, and what it came to or what went wrong. */
export async function handOn(port: MessagePort, work: (sink: LogSink & StoreSink) => Promise<unknown>): Promise<void> {
  const sender = new CallSender(port);
  try {
    sender.end(await work(sender.sink));
  } catch (error) {
    sender.fail(error);
  }
}

/** Carries out the calls that come through the port, one after the other; gives what the sender ended with. */
export async function replayCalls<End>(port: MessagePort, sink: Partial<LogSink & StoreSink>): Promise<End> {
  const names = new NamesReceiver();
  const carryOut = async ({ call, given, names: more }: Extract<Sent, { call: Call }>) => {
    const act = sink[call] as ((given: unknown) => Promise<void>) | undefined;
    if (act === undefined) throw new Error(`a call requires a sink that knows it, got ${call} (load)`);
    await act(more === undefined ? given : { ...(given as object), names: names.after(more) });
  };
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
        await carryOut(sent);
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
