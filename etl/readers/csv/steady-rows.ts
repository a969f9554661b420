import { CARRIAGE_RETURN, NEWLINE } from '../bytes/line-ends.ts';
import type { ColumnPlan } from './column-plan.ts';
import type { FastRows } from './fast-rows.ts';
import type { RowScanner } from './row-scanner.ts';
import { COMMA, QUOTE, type RowWindow } from './row-window.ts';
import type { RowsReader, ScanMemory } from './scan-memory.ts';
import { InstantScanner } from './scan-number.ts';
import { DECIMALS_OF, KNOWN, knownAt, MOST_COLUMNS, MOST_KNOWN_BYTES, STOPPED_AT } from './steady-layout.ts';
import type { TextDictionary } from './text-dictionary.ts';

const [ZERO, NINE, MINUS, ZULU] = [48, 57, 45, 90];
/** `2026-03-01T06:00:` */
const MINUTE_BYTES = 17;
/** Of epoch milliseconds the last so many digits change within a quarter of an hour. */
const CHANGING_DIGITS = 6;
/** Rows that `FastRows` reads where one is plain but not steady. */
const ROWS_BETWEEN = 64;
/** Where again and again fewer rows look alike, the code is begun too often to pay: so many are left to `FastRows`. */
const ROWS_THAT_PAY = 8;
const MOST_POOR = 4;
const ROWS_OF_REST = 4_096;
/** The same where none is plain, as in a file of quoted fields: so many are left to the general scanner unseen. */
const ODD_ROWS_OF_REST = 1_000;

/**
 * Rows that look like the one before, read by machine code (`steady-rows-code.ts`) in the memory that the window lies in.
 * It stops before the first that does not: what is new in that one is learnt, or `FastRows` reads it.
 */
export class SteadyRows {
  readonly #memory: ScanMemory;
  readonly #plans: readonly (ColumnPlan | null)[];
  readonly #dictionary: TextDictionary;
  readonly #fast: FastRows;
  readonly #run: RowsReader;
  readonly #outputs: { from: Float64Array | Int32Array; to: Float64Array | Int32Array }[];
  readonly #instants = new InstantScanner();
  readonly #minute = new Uint8Array(MINUTE_BYTES + 3);
  #poor = 0;
  #odd = 0;
  #rest = 0;

  constructor(memory: ScanMemory, { plans, lines, dictionary, fast, latestUs }: RowScanner) {
    this.#memory = memory;
    this.#plans = plans;
    this.#dictionary = dictionary;
    this.#fast = fast;
    this.#run = memory.rowsReader(plans, latestUs);
    const columns = plans.flatMap((plan) => (plan === null ? [] : [plan.into]));
    this.#outputs = [...columns, lines].map((to, output) => ({ from: memory.output(output, to), to }));
    this.#minute.set([ZERO, ZERO, ZULU], MINUTE_BYTES);
    for (const column of plans.keys()) memory.view.setInt32(knownAt(column) + KNOWN.length, -1, true);
  }

  /** Whether a header's columns are few enough, and none of a kind that only `FastRows` reads. */
  static canRead({ plans }: RowScanner, memory: ScanMemory): boolean {
    const read = plans.filter((plan) => plan !== null);
    const isCodable = read.every(({ kind }) => kind !== 'word');
    return isCodable && plans.length <= MOST_COLUMNS && memory.hasRoomFor(read.length + 1);
  }

  /** Reads rows into index `at` and on, up to `capacity`, and passes them. Returns the index after the last one. */
  read(window: RowWindow, at: number, capacity: number): number {
    if (this.#rest > 0 || !this.#memory.holds(window.bytes)) {
      const row = this.#fast.read(window, at, capacity);
      this.#rest = row > at ? 0 : this.#rest - 1;
      return row;
    }
    const row = this.#plain(window, at, capacity);
    this.#odd = row > at || isCut(window) ? 0 : this.#odd + 1;
    if (this.#odd === MOST_POOR) [this.#odd, this.#rest] = [0, ODD_ROWS_OF_REST];
    return row;
  }

  #plain(window: RowWindow, at: number, capacity: number): number {
    window.bytes[window.end] = NEWLINE; // no field runs past it; the window keeps room for it
    let row = at;
    for (;;) {
      row = this.#steady(window, row, capacity);
      if (row === capacity || isCut(window)) return row;
      if (this.#learn(window)) {
        const before = row;
        row = this.#steady(window, row, capacity);
        this.#poor = row - before < ROWS_THAT_PAY ? this.#poor + 1 : 0;
        if (row > before && this.#poor < MOST_POOR) continue;
      }
      const rows = this.#poor < MOST_POOR ? ROWS_BETWEEN : ROWS_OF_REST;
      if (this.#poor === MOST_POOR) this.#poor = 0;
      const next = this.#fast.read(window, row, Math.min(capacity, row + rows));
      if (next === row) return row;
      row = next;
    }
  }

  #steady(window: RowWindow, row: number, capacity: number): number {
    const { view } = this.#memory;
    const { byteOffset } = window.bytes;
    const next = this.#run(window.start + byteOffset, window.end + byteOffset, row, capacity, window.line);
    if (next === row) return row;
    for (const { from, to } of this.#outputs) to.set(from.subarray(row, next), row);
    window.start = view.getInt32(STOPPED_AT, true) - byteOffset;
    window.line += next - row;
    return next;
  }

  /** Remembers texts and times of the row that stands next; false if nothing of it is new, or it is not plain. */
  #learn({ bytes, start }: RowWindow): boolean {
    let isNew = false;
    let pos = start;
    for (const [column, plan] of this.#plans.entries()) {
      const isQuoted = bytes[pos] === QUOTE;
      const stop = isQuoted ? quotedEnd(bytes, pos) : fieldEnd(bytes, pos);
      if (isQuoted && (plan?.kind !== 'text' || !endsField(bytes[stop]))) return false;
      if (plan?.kind === 'text' || plan?.kind === 'instant') {
        const learnt = plan.kind === 'text' ? this.#text(plan, bytes, { pos, stop }) : this.#instant(bytes, pos, stop);
        if (learnt === null) return false;
        isNew = this.#remember(column, bytes.subarray(pos, pos + learnt.length), learnt) || isNew;
      }
      if (bytes[stop] !== COMMA) break;
      pos = stop + 1;
    }
    return isNew;
  }

  /** A text as it stands, its quotes with it. */
  #text({ emptyAllowed }: TextPlan, bytes: Uint8Array, { pos, stop }: { pos: number; stop: number }): Learnt | null {
    if (stop - pos > MOST_KNOWN_BYTES) return null;
    const quotes = Number(bytes[pos] === QUOTE);
    for (let at = pos + quotes; at < stop - quotes; at++)
      if (bytes[at] === QUOTE || bytes[at] === CARRIAGE_RETURN) return null;
    const index = this.#dictionary.index(bytes, pos + quotes, stop - quotes);
    if (index < 0 || (!emptyAllowed && this.#dictionary.names[index] === '')) return null;
    return { ...NO_TIME, length: stop - pos, index };
  }

  #instant(bytes: Uint8Array, pos: number, stop: number): Learnt | null {
    if (bytes[pos + 4] === MINUS) {
      if (stop - pos < MINUTE_BYTES) return null;
      this.#minute.set(bytes.subarray(pos, pos + MINUTE_BYTES));
      const us = this.#instants.scan(this.#minute, 0, this.#minute.length);
      const digits = { us, digits: 2, most: 59, decimals: DECIMALS_OF.second };
      return Number.isNaN(us) ? null : { ...NO_TIME, ...digits, length: MINUTE_BYTES };
    }
    let end = pos;
    while (bytes[end]! >= ZERO && bytes[end]! <= NINE) end++;
    if (end - pos < 9 || end - pos > 14) return null;
    const length = end - pos - CHANGING_DIGITS;
    const us = Number(Buffer.from(bytes.subarray(pos, pos + length)).toString('latin1')) * 1e9;
    return { ...NO_TIME, us, length, digits: CHANGING_DIGITS, most: 999_999, decimals: DECIMALS_OF.milli };
  }

  #remember(column: number, bytes: Uint8Array, { length, index, us, digits, most, decimals }: Learnt): boolean {
    const { view } = this.#memory;
    const at = knownAt(column);
    const known = new Uint8Array(view.buffer, at, bytes.length);
    const isSame = view.getInt32(at + KNOWN.length, true) === length && bytes.every((byte, k) => byte === known[k]);
    if (isSame) return false;
    new Uint8Array(view.buffer, at, KNOWN.length).fill(0).set(bytes);
    view.setInt32(at + KNOWN.length, length, true);
    view.setInt32(at + KNOWN.index, index, true);
    view.setBigUint64(at + KNOWN.mask, (1n << BigInt(8 * (length % 8))) - 1n, true);
    view.setFloat64(at + KNOWN.us, us, true);
    view.setInt32(at + KNOWN.digits, digits, true);
    view.setInt32(at + KNOWN.most, most, true);
    view.setInt32(at + KNOWN.decimals, decimals, true);
    return true;
  }
}

type Learnt = { length: number; index: number; us: number; digits: number; most: number; decimals: number };
const NO_TIME: Learnt = { length: 0, index: 0, us: 0, digits: 0, most: 0, decimals: 0 };

type TextPlan = ColumnPlan & { kind: 'text' };

/** After the quote that closes the one at `from`; that one itself where none does on its line. */
function quotedEnd(bytes: Uint8Array, from: number): number {
  let at = from + 1;
  while (bytes[at] !== QUOTE && bytes[at] !== NEWLINE) at++;
  return bytes[at] === QUOTE ? at + 1 : from;
}

function endsField(byte: number | undefined): boolean {
  return byte === COMMA || byte === NEWLINE || byte === CARRIAGE_RETURN;
}

function fieldEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  while (bytes[at] !== COMMA && bytes[at] !== NEWLINE) at++;
  return at;
}

/** The window ends within its next row, of which more is to come. */
function isCut({ bytes, start, end, ended }: RowWindow): boolean {
  return start >= end || (!ended && bytes.indexOf(NEWLINE, start) >= end);
}
