import type { SetAside } from '../../model/set-aside.ts';
import { AHEAD_US, EARLIEST_US } from '../kinds/column-limits.ts';
import type { ColumnPlan } from './column-plan.ts';
import { FastRows } from './fast-rows.ts';
import { CARRIAGE_RETURN } from '../bytes/line-ends.ts';
import { COMMA, QUOTE, type RowWindow } from './row-window.ts';
import { InstantScanner, scanNumber } from './scan-number.ts';
import { TextDictionary } from './text-dictionary.ts';
import { ZONE_REMEDY, ZONELESS } from '../kinds/zoneless.ts';

const SHOWN_CHARACTERS = 200;
const MOST_TEXT_BYTES = 800;

/**
 * Turns one row of bytes into values, written at index `at` of each column. A row that cannot be used writes nothing
 * that counts and gives a set-aside row. Quoted fields are unquoted in a copy; all else is read where it stands.
 */
export class RowScanner {
  readonly dictionary = new TextDictionary();
  /** One for each column of the file, null for one that is not read. */
  readonly plans: readonly (ColumnPlan | null)[];
  /** Takes the line of each row. */
  readonly lines: Float64Array;
  /** A time after it is a clock's that is ahead. */
  readonly latestUs: number;
  readonly #instants = new InstantScanner();
  /** Reads the plain rows. */
  readonly fast: FastRows;
  #fault: SetAside | null = null;

  constructor(plans: readonly (ColumnPlan | null)[], lines: Float64Array, nowUs = Infinity) {
    this.plans = plans;
    this.lines = lines;
    this.latestUs = nowUs + AHEAD_US;
    this.fast = new FastRows(plans, { lines, dictionary: this.dictionary, nowUs });
  }

  /** Reads the row [from, to) of the window into index `at`. Null where it was used. */
  read(window: Pick<RowWindow, 'bytes' | 'start' | 'line'>, to: number, at: number): SetAside | null {
    const { bytes, line } = window;
    let end = to;
    if (end > window.start && bytes[end - 1] === CARRIAGE_RETURN) end--;
    this.#fault = null;
    const plans = this.plans;
    let from = window.start;
    let column = 0;
    for (; column < plans.length; column++) {
      let stop = from;
      const quoted = bytes[from] === QUOTE && from < end;
      if (quoted) stop = closingQuote(bytes, from, end) + 1;
      while (stop < end && bytes[stop] !== COMMA) stop++;
      const plan = plans[column]!;
      if (plan !== null) {
        if (quoted) {
          const text = unquoted(bytes, from, stop);
          this.#field(plan, { bytes: text, from: 0, to: text.length, at, line });
        } else this.#field(plan, { bytes, from, to: stop, at, line });
        if (this.#fault !== null) return this.#fault;
      }
      if (stop >= end) break;
      from = stop + 1;
    }
    this.lines[at] = line;
    if (column === plans.length - 1) return null;
    return this.#wrongCount(bytes.subarray(window.start, end), line);
  }

  #field(plan: ColumnPlan, cell: Cell): void {
    const value = this.#value(plan, cell);
    plan.into[cell.at] = value;
  }

  #value(plan: ColumnPlan, cell: Cell): number {
    const { bytes, from, to } = cell;
    switch (plan.kind) {
      case 'number': {
        const number = scanNumber(bytes, from, to);
        if (number >= plan.limit.least && number <= plan.limit.most) return number;
        return this.#looseNumber(plan, cell);
      }
      case 'instant': {
        const us = this.#instants.scan(bytes, from, to);
        if (us >= EARLIEST_US && us <= this.latestUs) return us;
        return this.#looseInstant(plan, cell, us);
      }
      case 'text':
        return this.#text(plan, cell);
      case 'word': {
        const word = textOf(bytes, from, to).trim().toLowerCase();
        if (word === '') return Number.NaN;
        const index = plan.words.indexOf(word);
        return index >= 0 ? index : this.#refuse(cell, plan.field, `${plan.field} requires ${plan.words.join(' or ')}`);
      }
    }
  }

  /** Blanks around, exponents, more digits, a missing value; else what is wrong. */
  #looseNumber(plan: ColumnPlan & { kind: 'number' }, cell: Cell): number {
    const text = textOf(cell.bytes, cell.from, cell.to).trim();
    const { least, most, unit } = plan.limit;
    if (text === '' || /^nan$/i.test(text))
      return plan.required ? this.#refuse(cell, plan.field, `${plan.field} requires a number`) : Number.NaN;
    const number = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
    if (Number.isNaN(number)) return this.#refuse(cell, plan.field, `${plan.field} requires a number`);
    if (number >= least && number <= most) return number;
    return this.#refuse(cell, plan.field, `${plan.field} requires a value from ${least} to ${most} ${unit}`);
  }

  #looseInstant(plan: ColumnPlan, cell: Cell, us: number): number {
    const text = textOf(cell.bytes, cell.from, cell.to).trim();
    const again = Number.isNaN(us) && text.length < cell.to - cell.from;
    if (again) {
      const bytes = Buffer.from(text, 'latin1');
      const trimmed = this.#instants.scan(bytes, 0, bytes.length);
      if (!Number.isNaN(trimmed)) return this.#value(plan, { ...cell, bytes, from: 0, to: bytes.length });
    }
    if (us < EARLIEST_US)
      return this.#refuse(cell, plan.field, 'time requires a date from 1990 on: the clock was not set');
    if (us > this.latestUs)
      return this.#refuse(cell, plan.field, 'time requires a date not after today: the clock is ahead');
    const wanted = ZONELESS.test(text)
      ? `a zone (Z or an offset such as +01:00): ${ZONE_REMEDY}`
      : 'ISO 8601 with zone, or epoch milliseconds';
    return this.#refuse(cell, plan.field, `${plan.field} requires ${wanted}`);
  }

  #text(plan: ColumnPlan & { kind: 'text' }, cell: Cell): number {
    if (cell.to === cell.from && !plan.emptyAllowed)
      return this.#refuse(cell, plan.field, `${plan.field} requires a name`);
    if (cell.to - cell.from > MOST_TEXT_BYTES)
      return this.#refuse(cell, plan.field, `${plan.field} requires at most ${MOST_TEXT_BYTES} bytes`);
    const index = this.dictionary.index(cell.bytes, cell.from, cell.to);
    if (!plan.emptyAllowed && this.dictionary.names[index] === '')
      return this.#refuse(cell, plan.field, `${plan.field} requires a name`);
    if (index >= 0) return index;
    return this.#refuse(cell, plan.field, `${plan.field} requires text in UTF-8 without control characters`);
  }

  #refuse(cell: Cell, field: string, reason: string): number {
    this.#fault = { line: cell.line, field, value: shown(textOf(cell.bytes, cell.from, cell.to)), reason };
    return Number.NaN;
  }

  #wrongCount(row: Uint8Array, line: number): SetAside {
    const value = shown(textOf(row, 0, row.length));
    return { line, field: '', value, reason: `row requires ${this.plans.length} fields as in the header` };
  }
}

type Cell = { bytes: Uint8Array; from: number; to: number; at: number; line: number };

export function textOf(bytes: Uint8Array, from: number, to: number): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + from, Math.min(to - from, 4096)).toString('utf8');
}

/** A value as a set-aside row shows it. */
export function shown(text: string): string {
  return text.length > SHOWN_CHARACTERS ? `${text.slice(0, SHOWN_CHARACTERS)}…` : text;
}

/** Index of the quote that ends the field which begins with one; `end` − 1 where none does. */
export function closingQuote(bytes: Uint8Array, open: number, end: number): number {
  for (let at = open + 1; at < end; at++) {
    if (bytes[at] !== QUOTE) continue;
    if (bytes[at + 1] === QUOTE && at + 1 < end) at++;
    else return at;
  }
  return end - 1;
}

function unquoted(bytes: Uint8Array, from: number, to: number): Buffer {
  const text = Buffer.from(bytes.subarray(from, to)).toString('latin1');
  const whole = /^"((?:[^"]|"")*)"$/.exec(text);
  return Buffer.from(whole === null ? text : whole[1]!.replaceAll('""', '"'), 'latin1');
}
