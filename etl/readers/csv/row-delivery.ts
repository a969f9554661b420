import type { SetAside } from '../../model/set-aside.ts';
import type { ReaderSink } from '../reader.ts';

/** Hands on a batch of so many rows; gives those whose values, each sound, cannot be true together. */
export type DeliverBatch = (count: number) => Promise<readonly SetAside[]>;

/** Rows of a batch as they fill it, and those that were set aside, until both are handed on together. */
export class RowDelivery {
  /** Rows that stand in the batch. */
  filled = 0;
  #taken = 0;
  #setAside = 0;
  #waiting: SetAside[] = [];
  readonly #sink: ReaderSink;
  readonly #batch: DeliverBatch;

  constructor(sink: ReaderSink, batch: DeliverBatch) {
    this.#sink = sink;
    this.#batch = batch;
  }

  get waiting(): number {
    return this.#waiting.length;
  }

  setAside(row: SetAside): void {
    this.#setAside++;
    this.#waiting.push(row);
  }

  async handOn(): Promise<void> {
    const impossible = this.filled > 0 ? await this.#batch(this.filled) : [];
    this.#taken += this.filled - impossible.length;
    this.filled = 0;
    for (const row of impossible) this.setAside(row);
    if (this.#waiting.length > 0) await this.#sink.setAside(this.#waiting);
    this.#waiting = [];
  }

  /** Hands on what is left; how many rows came to what. */
  async end(): Promise<{ taken: number; setAside: number }> {
    await this.handOn();
    return { taken: this.#taken, setAside: this.#setAside };
  }
}
