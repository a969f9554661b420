import { UnreadableFile, type SetAside } from '../../model/set-aside.ts';
import { RowFault } from '../kinds/cell.ts';
import {
  columnName,
  plainDecimal,
  type ColumnTable,
  type TableBatch,
  type TableColumn,
  type Wanted,
} from '../columns/column-table.ts';
import { isNested, objectOn, type JsonObject, type JsonValue } from './json-lines.ts';
import type { ByteStream } from '../reader.ts';
import { shown } from '../csv/row-scanner.ts';
import { textLines, type TextLine } from '../bytes/text-lines.ts';

/** Keys of the objects: those that hold single values, and those that only ever hold lists or structures. */
export class JsonKeys {
  readonly #single = new Set<string>();
  readonly #nested = new Set<string>();

  add(object: JsonObject): void {
    for (const key of Object.keys(object)) (isNested(object[key]) ? this.#nested : this.#single).add(key);
  }

  get columns(): string[] {
    return [...new Set([...this.#single].map(columnName))];
  }

  get others(): string[] {
    const { columns } = this;
    return [...new Set([...this.#nested].map(columnName))].filter((name) => !columns.includes(name));
  }
}

/**
 * All keys of a file. An object leaves out what it does not have, so that only the whole file tells which columns there
 * are, as the header of a CSV file would.
 */
export async function keysOf(bytes: ByteStream): Promise<JsonKeys> {
  const keys = new JsonKeys();
  try {
    for await (const lines of textLines(bytes))
      for (const { text, fault } of lines) {
        const object = fault === null ? objectOn(text) : null;
        if (object !== null) keys.add(object);
      }
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error; // the break is told where the rows are read
  }
  return keys;
}

/** The objects of a file as a table; a line that holds none is set aside. Rows before a break are read. */
export function ndjsonTable(bytes: ByteStream, { columns, others }: JsonKeys): ColumnTable {
  async function* batches(wanted: ReadonlyMap<string, Wanted>): AsyncIterable<TableBatch> {
    let line = 0;
    try {
      for await (const lines of textLines(bytes)) {
        line = lines.at(-1)?.line ?? line;
        if (lines.length > 0) yield batchOf(lines, wanted);
      }
    } catch (error) {
      if (!(error instanceof UnreadableFile)) throw error;
      const setAside = [{ line: line + 1, field: '', value: '', reason: error.message }];
      yield { count: 0, lines: new Float64Array(0), columns: [], setAside };
    }
  }
  return { columns, others, batches };
}

function batchOf(lines: readonly TextLine[], wanted: ReadonlyMap<string, Wanted>): TableBatch {
  const setAside: SetAside[] = [];
  const names = [...wanted.keys()];
  const cells = names.map((): (JsonValue | undefined)[] => []);
  const indexes = new Map<string, number>();
  const kept: number[] = [];
  for (const { line, text, fault } of lines) {
    const object = fault === null ? objectOn(text) : null;
    if (object === null) {
      setAside.push({ line, field: '', value: shown(text), reason: fault ?? 'line requires a JSON object' });
      continue;
    }
    const row = kept.push(line) - 1;
    for (const key of Object.keys(object)) {
      let index = indexes.get(key);
      if (index === undefined) indexes.set(key, (index = names.indexOf(columnName(key))));
      if (index >= 0) cells[index]![row] ??= object[key];
    }
  }
  const columns = [...wanted].map(([name, as], index) => columnOf(name, cells[index]!, { as, count: kept.length }));
  return { count: kept.length, lines: Float64Array.from(kept), columns, setAside };
}

type Cells = readonly (JsonValue | undefined)[];

function columnOf(name: string, cells: Cells, { as, count }: { as: Wanted; count: number }): TableColumn {
  return {
    text: (row) => textOf(name, cells[row], as),
    numbers: as === 'text' ? null : numbersOf(cells, count),
    instants: null,
    repeats: (row) => typeof cells[row] === 'string' && cells[row] === cells[row - 1],
  };
}

function textOf(name: string, value: JsonValue | undefined, as: Wanted): string | RowFault {
  if (value === undefined || value === null) return '';
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return value ? '1' : '0';
  if (isNested(value)) return new RowFault(name, JSON.stringify(value), 'a single value');
  // JSON numbers are read with 53 bits: a longer unit number would turn into another one.
  const changed = as === 'text' && Number.isInteger(value) && !Number.isSafeInteger(value);
  return changed ? new RowFault(name, String(value), 'quotes around a number this long') : plainDecimal(value);
}

/** Numbers, where all that is not missing is one. */
function numbersOf(cells: Cells, count: number): Float64Array | null {
  const numbers = new Float64Array(count).fill(Number.NaN);
  for (let row = 0; row < count; row++) {
    const value = cells[row];
    if (typeof value === 'number' || typeof value === 'boolean') numbers[row] = Number(value);
    else if (value !== undefined && value !== null) return null;
  }
  return numbers;
}
