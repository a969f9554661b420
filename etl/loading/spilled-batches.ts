import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { VOLTS_ALONE, type SampleBatch } from '../model/samples.ts';

type Column = Float64Array | Int32Array;
/** A batch on the disk: the columns that it has, one after the other from `at` on. */
type Block = { at: number; count: number; columns: [name: string, isInteger: boolean][] };

/** Batches of samples in a temporary file, to be read again from the last to the first. */
export class SpilledBatches {
  readonly #folder = mkdtempSync(join(tmpdir(), 'crankledger-spill-'));
  readonly #file = openSync(join(this.#folder, 'samples'), 'wx+', 0o600);
  readonly #blocks: Block[] = [];
  #end = 0;
  #names: readonly string[] = [];
  #isClosed = false;

  add(batch: SampleBatch): void {
    const block: Block = { at: this.#end, count: batch.count, columns: [] };
    for (const [name, column] of Object.entries(batch)) {
      if (!(column instanceof Float64Array || column instanceof Int32Array)) continue;
      block.columns.push([name, column instanceof Int32Array]);
      this.#write(column.subarray(0, batch.count));
    }
    this.#blocks.push(block);
    // Names only grow while a file is read: the last list serves every batch.
    this.#names = batch.names;
  }

  /** Every batch, the last one first, and its rows from the last to the first. */
  *backwards(): Generator<SampleBatch> {
    for (const { at, count, columns } of this.#blocks.toReversed()) {
      const filled: Record<string, Column> = {};
      let from = at;
      for (const [name, isInteger] of columns) {
        const column = isInteger ? new Int32Array(count) : new Float64Array(count);
        readSync(this.#file, column, 0, column.byteLength, from);
        from += column.byteLength;
        filled[name] = column.reverse();
      }
      const without = { ...VOLTS_ALONE, position: null, record: null };
      yield { ...without, ...(filled as SampleColumns), count, names: this.#names };
    }
  }

  /** Takes the file away, however often it is asked. */
  close(): void {
    if (!this.#isClosed) closeSync(this.#file);
    this.#isClosed = true;
    rmSync(this.#folder, { recursive: true, force: true });
  }

  #write(column: Column): void {
    for (let done = 0; done < column.byteLength;)
      done += writeSync(this.#file, column, done, column.byteLength - done, this.#end + done);
    this.#end += column.byteLength;
  }
}

/** What every batch of samples has. */
type SampleColumns = Pick<SampleBatch, 'unit' | 'timeUs' | 'volts' | 'line'>;
