/**
 * Batches of columns on their way to another thread: copied into memory that both threads see and that is used again,
 * since fresh memory costs more than the copy (130 to 300 MB/s at its first touch).
 */

/** A batch as readers fill it: `count` rows, columns as typed arrays, texts by number in a list that grows. */
type Column = Float64Array | Int32Array | Uint8Array;
type Batch = Readonly<Record<string, unknown>> & { count: number };
type Names = { from: number; added: readonly string[] };

const ALIGNED = 8;
const paddedBytes = (column: Column, count: number) =>
  Math.ceil((count * column.BYTES_PER_ELEMENT) / ALIGNED) * ALIGNED;

function isColumn(value: unknown): value is Column {
  return value instanceof Float64Array || value instanceof Int32Array || value instanceof Uint8Array;
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Shared memory for one batch at a time. */
class BatchSlot {
  #memory = new SharedArrayBuffer(0);
  #used = 0;

  /** The batch with its columns copied here, cut to `count`. Valid until the slot is filled anew. */
  filledWith<Filling extends Batch>(batch: Filling): Filling {
    this.#used = 0;
    const bytes = columnBytes(batch, batch.count);
    if (this.#memory.byteLength < bytes) this.#memory = new SharedArrayBuffer(bytes);
    return this.#copied(batch, batch.count) as Filling;
  }

  #copied(group: Record<string, unknown>, count: number): Record<string, unknown> {
    return Object.fromEntries(
      Object.entries(group).map(([name, value]) => {
        if (isColumn(value)) return [name, this.#copiedColumn(value, count)];
        return [name, isGroup(value) ? this.#copied(value, count) : value];
      }),
    );
  }

  #copiedColumn(column: Column, count: number): Column {
    const from = this.#used;
    this.#used += paddedBytes(column, count);
    if (column instanceof Float64Array) return filled(new Float64Array(this.#memory, from, count), column);
    if (column instanceof Int32Array) return filled(new Int32Array(this.#memory, from, count), column);
    return filled(new Uint8Array(this.#memory, from, count), column);
  }
}

function filled<Kind extends Column>(into: Kind, column: Kind): Kind {
  into.set(column.subarray(0, into.length));
  return into;
}

function columnBytes(group: Record<string, unknown>, count: number): number {
  return Object.values(group).reduce<number>((sum, value) => {
    if (isColumn(value)) return sum + paddedBytes(value, count);
    return sum + (isGroup(value) ? columnBytes(value, count) : 0);
  }, 0);
}

/** Slots that are filled here and emptied elsewhere, each again and again. */
export class BatchSlots {
  readonly #slots: BatchSlot[];
  readonly #free: number[];
  #waiting: { resolve: (slot: number) => void; reject: (error: Error) => void }[] = [];
  #failure: Error | null = null;

  constructor(count: number) {
    this.#slots = Array.from({ length: count }, () => new BatchSlot());
    this.#free = [...this.#slots.keys()];
  }

  /** Waits for one that nobody uses. */
  async free(): Promise<number> {
    if (this.#failure !== null) throw this.#failure;
    return this.#free.pop() ?? new Promise<number>((resolve, reject) => this.#waiting.push({ resolve, reject }));
  }

  filledWith<Filling extends Batch>(slot: number, batch: Filling): Filling {
    return this.#slots[slot]!.filledWith(batch);
  }

  giveBack(slot: number): void {
    const next = this.#waiting.shift();
    if (next === undefined) this.#free.push(slot);
    else next.resolve(slot);
  }

  /** There will be no more: whoever empties them has gone. */
  fail(error: Error): void {
    this.#failure ??= error;
    for (const { reject } of this.#waiting) reject(this.#failure);
    this.#waiting = [];
  }
}

/** Of the names of a batch only those are sent that the other side does not have yet. */
export class NamesSender {
  #last: readonly string[] = [];
  #sent = 0;

  next(names: readonly string[]): Names {
    const from = names === this.#last ? this.#sent : 0;
    this.#last = names;
    this.#sent = names.length;
    return { from, added: names.slice(from) };
  }
}

export class NamesReceiver {
  readonly #names: string[] = [];

  after({ from, added }: Names): readonly string[] {
    this.#names.length = from;
    for (const name of added) this.#names.push(name);
    return this.#names;
  }
}
