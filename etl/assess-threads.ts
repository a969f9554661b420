import type { WorkName, Workers, Works } from './assess-work.ts';
import { errorOf, type failureOf } from './loading/calls.ts';
import { Hand } from './loading/crew.ts';
import { groupBy } from './model/group-by.ts';
import { pieceOf } from './packed-dailies.ts';
import type { Store } from './store/store.ts';
import type { DailyMedians } from './trends/daily-medians.ts';

/** What a thread is told, in this order: which store to read, what is to be done, then items of it, block by block. */
export type Told =
  { store: string } | { work: WorkName; shared: unknown } | { block: number; items: readonly unknown[] };
export type Said = { block: number } & ({ results: unknown[] } | { failed: ReturnType<typeof failureOf> });

/** Compiled, a thread starts from the file beside this one. Node runs no TypeScript: from the source, no threads. */
const ENTRY = import.meta.url.endsWith('.js') ? new URL('./assess-worker.js', import.meta.url) : null;
/** With fewer engines a thread would take longer to start than to do its share. */
const ENGINES_FOR_THREADS = 150;
/** Items of one message: enough that the message costs little, few enough that memory stays small. */
const BLOCK: Record<WorkName, number> = { records: 1, read: 8, summarise: 16, outlook: 32 };
/** Blocks that a thread has at a time: while its answer is taken in, it is at the next. */
const AHEAD = 2;

/** A thread has little at a time; held short it collects its garbage sooner. One engine needs some MiB. */
const LIMITS = { maxYoungGenerationSizeMb: 8, maxOldGenerationSizeMb: 96 };

export type AssessThreads = { workers: Workers; close(): Promise<void> };

/** `entry`: the compiled thread, null where there is none. */
export type ThreadsOptions = { entry?: URL | null; leastEngines?: number };

/** Null where no thread can be started, or where none would be worth it. */
export async function startAssessThreads(
  store: Store,
  jobs: number,
  { entry = ENTRY, leastEngines = ENGINES_FOR_THREADS }: ThreadsOptions = {},
): Promise<AssessThreads | null> {
  if (entry === null || jobs < 2 || (await store.engines()).length < leastEngines) return null;
  const hands = Array.from({ length: jobs }, () => new Hand(entry, { resourceLimits: LIMITS }));
  for (const { worker } of hands) worker.postMessage({ store: store.path } satisfies Told);
  return {
    workers: { run: async (name, items, given) => new Run(name, items, given).by(hands) },
    close: async () => void (await Promise.all(hands.map(async ({ worker }) => worker.terminate()))),
  };
}

type Given<Name extends WorkName> = {
  shared: Works[Name]['shared'];
  onDone?: ((done: number) => void) | undefined;
};

/** One kind of work, shared out: whoever has finished a block gets the next, the results stand where their items stood. */
class Run<Name extends WorkName> {
  readonly #name: Name;
  readonly #items: (Works[Name]['item'] | undefined)[];
  readonly #given: Given<Name>;
  /** Which items go together. */
  readonly #blocks: readonly number[][];
  readonly #results: Works[Name]['result'][];
  #next = 0;
  #done = 0;

  constructor(name: Name, items: (Works[Name]['item'] | undefined)[], given: Given<Name>) {
    this.#name = name;
    this.#items = items;
    this.#given = given;
    this.#blocks = blocksOf(name, items);
    this.#results = new Array<Works[Name]['result']>(items.length);
  }

  async by(hands: readonly Hand[]): Promise<Works[Name]['result'][]> {
    await Promise.all(hands.map(async (hand) => this.#engage(hand)));
    return this.#results;
  }

  /** Keeps one thread busy until no block is left. */
  async #engage(hand: Hand): Promise<void> {
    const { worker } = hand;
    worker.postMessage({ work: this.#name, shared: this.#given.shared } satisfies Told);
    let open = 0;
    const handOut = () => {
      const told = this.#nextBlock();
      if (told === null) return false;
      worker.postMessage(told, piecesIn(told.items));
      open += 1;
      return true;
    };
    return new Promise<void>((resolve, reject) => {
      const listen = (said: Said) => {
        open -= 1;
        if ('failed' in said) return end(errorOf(said.failed));
        this.#take(said.block, said.results as Works[Name]['result'][]);
        if (!handOut() && open === 0) end(null);
      };
      const end = (error: Error | null) => {
        worker.off('message', listen);
        if (error === null) resolve();
        else reject(error);
      };
      worker.on('message', listen);
      void hand.ended.then((why) =>
        end(new Error(`assess requires a thread that lives, got its end: ${why} (assess)`)),
      );
      for (let ahead = 0; ahead < AHEAD; ahead++) handOut();
      if (open === 0) end(null);
    });
  }

  #nextBlock(): Extract<Told, { block: number }> | null {
    const places = this.#blocks[this.#next];
    if (places === undefined) return null;
    const items = places.map((place) => this.#items[place]!);
    for (const place of places) this.#items[place] = undefined;
    return { block: this.#next++, items };
  }

  #take(block: number, results: readonly Works[Name]['result'][]): void {
    this.#blocks[block]!.forEach((place, at) => (this.#results[place] = results[at]!));
    this.#done += results.length;
    this.#given.onDone?.(this.#done);
  }
}

/** Items in a row; those whose daily medians lie in one piece of memory, which goes over to one thread, together. */
function blocksOf(name: WorkName, items: readonly unknown[]): number[][] {
  const groups = groupBy([...items.keys()], (place) => pieceIn(items[place]) ?? Math.floor(place / BLOCK[name]));
  return [...groups.values()];
}

/** Memory that goes over as it lies, and is then of no use here. */
export function piecesIn(sent: readonly unknown[]): ArrayBuffer[] {
  const pieces = new Set(sent.map(pieceIn));
  return [...pieces].filter((piece) => piece !== null);
}

function pieceIn(sent: unknown): ArrayBuffer | null {
  const daily = dailyIn(sent);
  return daily === null ? null : pieceOf(daily);
}

/** The daily medians of an item or a result that has any. */
export function dailyIn(sent: unknown): DailyMedians | null {
  return (sent as { daily?: DailyMedians } | null | undefined)?.daily ?? null;
}
