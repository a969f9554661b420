import { emptyTable, MEASURED_COLUMNS, type CrankBatch } from '../model/crank.ts';
import { MEASURE_COLUMNS, type MeasureColumn } from './schema/loaded.ts';

/** Sorted together before they are written: the more, the fewer pages are touched by a file of units in turn. */
const GATHERED_ROWS = 65_536;
const spare: GatheredCranks[] = [];
const MOST_SPARE = 4;

/**
 * Batches of event rows put behind one another, of as many columns as have a value. The memory is used again by the next
 * file: fresh memory costs more than what is written into it.
 */
export class GatheredCranks {
  count = 0;
  #engines = new Int32Array(0);
  #columns: CrankBatch['columns'] = emptyTable(MEASURED_COLUMNS, 0).columns;
  readonly #valued = new Set<MeasureColumn>();

  static borrow(): GatheredCranks {
    return spare.pop() ?? new GatheredCranks();
  }

  giveBack(): void {
    this.count = 0;
    this.#valued.clear();
    if (spare.length < MOST_SPARE) spare.push(this);
  }

  get engines(): Int32Array {
    return this.#engines;
  }

  get columns(): CrankBatch['columns'] {
    return this.#columns;
  }

  /** The measures of which some row has a value. */
  get measures(): MeasureColumn[] {
    return MEASURE_COLUMNS.filter((name) => this.#valued.has(name));
  }

  get isFull(): boolean {
    return this.count >= GATHERED_ROWS;
  }

  add({ count, columns }: CrankBatch, engines: Int32Array): void {
    const from = this.count;
    this.#reserve(from + count);
    this.#engines.set(engines.subarray(0, count), from);
    for (const name of ['timeUs', 'line'] as const) this.#columns[name].set(columns[name].subarray(0, count), from);
    for (const name of MEASURE_COLUMNS) {
      if (!this.#valued.has(name)) {
        if (!hasValue(columns[name], count)) continue;
        this.#valued.add(name);
        this.#columns[name].fill(Number.NaN, 0, from);
      }
      this.#columns[name].set(columns[name].subarray(0, count), from);
    }
    this.count += count;
  }

  #reserve(rows: number): void {
    if (rows <= this.#engines.length) return;
    const room = Math.max(rows, Math.min(2 * GATHERED_ROWS, 2 * this.#engines.length));
    const longer = <Column extends Float64Array | Int32Array>(column: Column, into: Column): Column => {
      into.set(column.subarray(0, this.count));
      return into;
    };
    this.#engines = longer(this.#engines, new Int32Array(room));
    for (const name of MEASURED_COLUMNS) this.#columns[name] = longer(this.#columns[name], new Float64Array(room));
  }
}

function hasValue(column: Float64Array, count: number): boolean {
  for (let row = 0; row < count; row++) if (!Number.isNaN(column[row]!)) return true;
  return false;
}
