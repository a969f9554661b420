import type { SetAside } from '../../model/set-aside.ts';
import type { ReaderSink } from '../reader.ts';

/** Rows of a batch as they fill it, and those that were set aside, until both are handed on together. */
export class RowDelivery {
  /** Rows that stand in the batch. */
  filled = 0;
  #taken = 0;
  #setAside = 0;
  #waiting: SetAside[] = [];
  readonly #sink: ReaderSink;
  readonly #batch: (count: number) => Promise<void>;

  constructor(sink: ReaderSink, batch: (count: number) => Promise<void>) {
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
    if (this.filled > 0) await this.#batch(this.filled);
    this.#taken += this.filled;
    this.filled = 0;
    if (this.#waiting.length > 0) await this.#sink.setAside(this.#waiting);
    this.#waiting = [];
  }

  /** Hands on what is left; how many rows came to what. */
  async end(): Promise<{ taken: number; setAside: number }> {
    await this.handOn();
    return { taken: this.#taken, setAside: this.#setAside };
  }
}
