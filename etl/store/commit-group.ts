import { BATCH_BYTES, BATCH_ROWS, type BatchSize } from './batch-queue.ts';
import { inTransaction, type Connection } from './connection.ts';
import { forgetEngines } from './engine-dictionary.ts';

/** Imports that end in one transaction: it costs as much as all that is written of a small file. Program. */
export const IMPORTS_AT_ONCE = 16;
/** How long the first waits for the others, ms: what is read of some small files meanwhile. Program. */
const WAITS_MS = 10;

type Waiting = { work: () => unknown; resolve: (result: never) => void; reject: (error: unknown) => void };

/**
 * The last writes of imports that end at about the same time, done in one transaction, each whole or not at all. So all
 * of them appear at one moment, and what one of them fails of costs that one alone.
 */
export class CommitGroup {
  readonly #writer: Connection;
  #waiting: Waiting[] = [];
  #rows = 0;
  #bytes = 0;
  #timer: ReturnType<typeof setTimeout> | null = null;

  constructor(writer: Connection) {
    this.#writer = writer;
  }

  /** What `work` gives, once it is committed. */
  async commit<Result>({ rows, bytes }: BatchSize, work: () => Result): Promise<Result> {
    return new Promise<Result>((resolve, reject) => {
      this.#waiting.push({ work, resolve, reject });
      this.#rows += rows;
      this.#bytes += bytes;
      if (this.#isFull) setImmediate(() => this.#write());
      else this.#timer ??= setTimeout(() => this.#write(), WAITS_MS);
    });
  }

  get #isFull(): boolean {
    return this.#waiting.length >= IMPORTS_AT_ONCE || this.#rows >= BATCH_ROWS || this.#bytes >= BATCH_BYTES;
  }

  #write(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    const waiting = this.#waiting;
    [this.#waiting, this.#rows, this.#bytes, this.#timer] = [[], 0, 0, null];
    if (waiting.length === 0) return;
    try {
      const settle = inTransaction(this.#writer, () => waiting.map((each) => this.#done(each)));
      for (const each of settle) each();
    } catch (error) {
      forgetEngines(this.#writer.sqlite);
      for (const { reject } of waiting) reject(error);
    }
  }

  /** Does one, and gives what tells its import how it went once all are committed. */
  #done({ work, resolve, reject }: Waiting): () => void {
    const { sqlite } = this.#writer;
    try {
      const result = sqlite.transaction(work)(); // inside of the other it is a savepoint
      return () => resolve(result as never);
    } catch (error) {
      // A full disk takes the whole transaction with it.
      if (!sqlite.inTransaction) throw error;
      return () => reject(error);
    }
  }
}
