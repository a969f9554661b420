import type { ColumnPlan } from './column-plan.ts';
import { FIRST_BYTES, SLACK_BYTES } from './row-window.ts';
import { BATCH_ROWS, outputAt, writeConstants } from './steady-layout.ts';
import { steadyRowsModule } from './steady-rows-code.ts';

/** Columns that are read, and the lines. */
const MOST_OUTPUTS = 12;
const PAGE_BYTES = 65_536;
const WINDOW_AT = outputAt(MOST_OUTPUTS);
const PAGES = Math.ceil((WINDOW_AT + FIRST_BYTES + SLACK_BYTES) / PAGE_BYTES);

export type RowsReader = (start: number, end: number, row: number, capacity: number, line: number) => number;

/** By what makes the code differ: the columns of the header. A folder has few; rubbish may have any number. */
const MOST_MODULES = 64;
const modules = new Map<string, WebAssembly.Module>();

/** Memory that machine code reads rows in: what is known of the columns, what is read of them, and the window's text. */
export class ScanMemory {
  readonly #memory = new WebAssembly.Memory({ initial: PAGES, maximum: PAGES });
  readonly view = new DataView(this.#memory.buffer);
  /** For the text of a `RowWindow`. */
  readonly window = Buffer.from(this.#memory.buffer, WINDOW_AT, FIRST_BYTES + SLACK_BYTES);
  readonly #readers = new WeakMap<WebAssembly.Module, RowsReader>();

  holds(bytes: Uint8Array): boolean {
    return bytes.buffer === this.#memory.buffer;
  }

  hasRoomFor(outputs: number): boolean {
    return outputs <= MOST_OUTPUTS;
  }

  /** Where the code leaves what goes into such a column. */
  output(output: number, column: Float64Array | Int32Array): Float64Array | Int32Array {
    return column instanceof Float64Array
      ? new Float64Array(this.#memory.buffer, outputAt(output), BATCH_ROWS)
      : new Int32Array(this.#memory.buffer, outputAt(output), BATCH_ROWS);
  }

  rowsReader(plans: readonly (ColumnPlan | null)[], latestUs: number): RowsReader {
    writeConstants(this.view, latestUs);
    const module = moduleFor(plans);
    const known = this.#readers.get(module);
    if (known !== undefined) return known;
    const { exports } = new WebAssembly.Instance(module, { env: { memory: this.#memory } });
    const reader = exports['run'] as RowsReader;
    this.#readers.set(module, reader);
    return reader;
  }
}

function moduleFor(plans: readonly (ColumnPlan | null)[]): WebAssembly.Module {
  const key = JSON.stringify(plans.map((plan) => plan && { ...plan, field: '', into: '' }));
  const known = modules.get(key);
  if (known !== undefined) return known;
  if (modules.size === MOST_MODULES) modules.clear();
  const module = steadyRowsModule(plans);
  modules.set(key, module);
  return module;
}

const spare: ScanMemory[] = [];

/** Null where the system gives no such memory: then rows are read without machine code. */
export function borrowScanMemory(): ScanMemory | null {
  try {
    return spare.pop() ?? new ScanMemory();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

export function giveBackScanMemory(memory: ScanMemory | null): void {
  if (memory !== null) spare.push(memory);
}
