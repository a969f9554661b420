import { converted } from '../../model/unit-of-measure.ts';
import { CellFault } from '../kinds/cell.ts';
import { MinuteCache } from './delimited-minutes.ts';
import { scanNumber } from '../csv/scan-number.ts';
import { writeInstant } from './delimited-number.ts';
import type { MappedColumn } from '../profile/mapped-column.ts';
import { COMMA, QUOTE } from '../csv/row-window.ts';

const [ZERO, NINE, DOT, MINUS, PLUS, NEWLINE] = [48, 57, 46, 45, 43, 10];

/** What bytes become that are no UTF-8. */
const REPLACED = '\uFFFD';

/** Bytes that are written one after the other; handed on and begun anew by whoever owns the stream. */
export class OutBytes {
  bytes = Buffer.allocUnsafe(1 << 19);
  length = 0;

  /** Makes room for so many more bytes. */
  reserve(more: number): void {
    if (this.length + more <= this.bytes.length) return;
    const larger = Buffer.allocUnsafe(2 * (this.length + more));
    larger.set(this.bytes.subarray(0, this.length));
    this.bytes = larger;
  }

  byte(value: number): void {
    this.bytes[this.length++] = value;
  }

  /** A cell as RFC 4180 writes it. Returns the line ends in it. */
  cell(text: string): number {
    const quoted = /[",\n\r]/.test(text);
    const written = quoted ? `"${text.replaceAll('"', '""')}"` : text;
    this.reserve(3 * written.length + 2);
    this.length += this.bytes.write(written, this.length, 'utf8');
    return quoted ? text.split('\n').length - 1 : 0;
  }
}

/** One cell of the row: where it stands; `text` where it was quoted. */
export type Cell = { bytes: Uint8Array; from: number; to: number; text: string | null };

/**
 * Writes the cell of one mapped column as the contract writes it: plain numbers and times straight from byte to byte,
 * everything else through the column's own reading of texts. Whatever the short ways write, the long one would mean.
 */
export class CellWriter {
  readonly #column: MappedColumn;
  /** Byte of the decimal mark. */
  readonly #mark: number;
  readonly #missing: readonly Uint8Array[];
  readonly #way: 'text' | 'number' | 'converted' | 'instant' | 'long';
  readonly #minutes: MinuteCache;

  constructor(column: MappedColumn, options: { decimalMark: '.' | ','; missingMarks: readonly string[] }) {
    this.#column = column;
    this.#mark = options.decimalMark.charCodeAt(0);
    this.#missing = options.missingMarks.map((mark) => Buffer.from(mark));
    this.#way = wayOf(column);
    this.#minutes = new MinuteCache(column);
  }

  /** Returns the line ends that it wrote, or why the cell cannot be used. */
  write(cell: Cell, out: OutBytes): number | CellFault {
    if (cell.text === null && this.#quick(cell, out)) return 0;
    const text = (cell.text ?? textOf(cell)).trim();
    if (text.includes(REPLACED)) return new CellFault('text in UTF-8, or the encoding in the profile');
    const written = this.#column.written(text);
    return written instanceof CellFault ? written : out.cell(written);
  }

  #quick(cell: Cell, out: OutBytes): boolean {
    const { bytes, from, to } = cell;
    if (from === to) return true;
    for (const mark of this.#missing) if (isMark(mark, bytes, from, to)) return true;
    switch (this.#way) {
      case 'number':
        return this.#copyNumber(cell, out);
      case 'converted': {
        const value = scanNumber(bytes, from, to, this.#mark);
        if (Number.isNaN(value)) return false;
        out.length += out.bytes.write(String(converted(value, this.#column.conversion!)), out.length, 'latin1');
        return true;
      }
      case 'instant': {
        const ofNumber = this.#column.instantOfNumber;
        const us =
          ofNumber === null
            ? this.#minutes.instant(bytes, from, to)
            : ofNumber(scanNumber(bytes, from, to, this.#mark));
        const end = Number.isNaN(us) ? -1 : writeInstant(out.bytes, out.length, us);
        if (end < 0) return false;
        out.length = end;
        return true;
      }
      case 'text':
        return copyText(cell, out);
      case 'long':
        return false;
    }
  }

  #copyNumber({ bytes, from, to }: Cell, out: OutBytes): boolean {
    const mark = this.#mark;
    const target = out.bytes;
    let end = out.length;
    for (let at = from; at < to; at++) {
      const byte = bytes[at]!;
      if ((byte >= ZERO && byte <= NINE) || byte === MINUS || byte === PLUS) target[end++] = byte;
      else if (byte === mark) target[end++] = DOT;
      else return false;
    }
    out.length = end;
    return true;
  }
}

function wayOf({ measure, conversion, unitOfMeasure, hasValues }: MappedColumn) {
  if (hasValues) return 'long';
  if (measure === 'text' || measure === 'flag') return 'text';
  if (measure === 'instant') return 'instant';
  if (measure === 'date' || measure === 'money' || unitOfMeasure?.includes(':') === true) return 'long';
  return conversion === null ? 'number' : 'converted';
}

function copyText({ bytes, from, to }: Cell, out: OutBytes): boolean {
  const target = out.bytes;
  let end = out.length;
  for (let at = from; at < to; at++) {
    const byte = bytes[at]!;
    if (byte === COMMA || byte === QUOTE || byte === NEWLINE) return false;
    target[end++] = byte;
  }
  out.length = end;
  return true;
}

export function textOf({ bytes, from, to }: Cell): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset + from, to - from).toString('utf8');
}

function isMark(mark: Uint8Array, bytes: Uint8Array, from: number, to: number): boolean {
  if (mark.length !== to - from) return false;
  for (let at = 0; at < mark.length; at++) if (bytes[from + at] !== mark[at]) return false;
  return true;
}
