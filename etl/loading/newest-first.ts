/**
 * A log whose rows stand newest first, as databases like to export them: told by its first rows, kept aside on the disk
 * until it ends, and given from its last row to its first. So it ends in the same cranks as the same log the other way
 * round, whatever its size. A log that is out of order only in places is none: its rows come as they stand.
 */
import type { SampleBatch } from '../model/samples.ts';
import { SpilledBatches } from './spilled-batches.ts';

/** So many steps from row to row in ten have to lead back in time; a disturbed clock does so now and then. Program. */
const BACK_SHARE = 0.9;
/** Fewer steps of one engine say nothing. Program. */
const LEAST_STEPS = 3;

/** The first rows tell; all of a small file take as long to look at as to read. Program. */
const ROWS_LOOKED_AT = 1_000;

export const NEWEST_FIRST = 'rows stand newest first: read from the last row to the first';

export class OldestFirst {
  readonly #pass: (batch: SampleBatch) => Promise<void>;
  /** Null until the first rows have come; then whether rows are kept aside. */
  #turned: SpilledBatches | false | null = null;

  constructor(pass: (batch: SampleBatch) => Promise<void>) {
    this.#pass = pass;
  }

  get notes(): string[] {
    return this.#turned instanceof SpilledBatches ? [NEWEST_FIRST] : [];
  }

  async push(batch: SampleBatch): Promise<void> {
    this.#turned ??= standsNewestFirst(batch) ? new SpilledBatches() : false;
    if (this.#turned === false) await this.#pass(batch);
    else this.#turned.add(batch);
  }

  /** The file has ended: what was kept aside goes on. */
  async end(): Promise<void> {
    if (!(this.#turned instanceof SpilledBatches)) return;
    for (const batch of this.#turned.backwards()) await this.#pass(batch);
  }

  /** To be called whatever happened. */
  close(): void {
    if (this.#turned instanceof SpilledBatches) this.#turned.close();
  }
}

/** By the steps from one sample to the next of the same engine; where units come by turns, from row to row. */
export function standsNewestFirst({ count, timeUs, unit, position }: SampleBatch): boolean {
  const lastUs = new Map<number, number>();
  const [ofEngines, ofRows] = [new Steps(), new Steps()];
  for (let row = 0; row < Math.min(count, ROWS_LOOKED_AT); row++) {
    const engine = unit[row]! * 2 ** 32 + (position?.[row] ?? 0);
    const us = timeUs[row]!;
    ofEngines.take(lastUs.get(engine), us);
    ofRows.take(row === 0 ? undefined : timeUs[row - 1], us);
    lastUs.set(engine, us);
    if (ofEngines.leadOn) return false;
  }
  return (ofEngines.all >= LEAST_STEPS ? ofEngines : ofRows).leadBack;
}

class Steps {
  all = 0;
  #back = 0;

  take(fromUs: number | undefined, toUs: number): void {
    if (fromUs === undefined || fromUs === toUs) return;
    this.all++;
    if (toUs < fromUs) this.#back++;
  }

  /** Whatever the rest of the rows looked at may do. */
  get leadOn(): boolean {
    return this.all - this.#back > (1 - BACK_SHARE) * ROWS_LOOKED_AT;
  }

  get leadBack(): boolean {
    return this.all >= LEAST_STEPS && this.#back >= BACK_SHARE * this.all;
  }
}
