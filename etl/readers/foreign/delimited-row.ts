import { closingQuote } from '../csv/row-scanner.ts';
import { QUOTE, type RowWindow } from '../csv/row-window.ts';
import { textOf, type Cell } from './delimited-cells.ts';

/** The cells of one row of a foreign text: where they lie in the window, found anew for each row. */
export class DelimitedRow {
  readonly #window: RowWindow;
  readonly #delimiter: number;
  /** Where the cells of the row begin and end; quoted ones stand in `#texts`. */
  readonly #from: Int32Array;
  readonly #to: Int32Array;
  readonly #texts: (string | null)[];
  readonly #joined = Buffer.alloc(256);
  readonly #reused: Cell = { bytes: this.#joined, from: 0, to: 0, text: null };
  readonly #reusedHalf: Cell = { ...this.#reused };
  #quotes = false;

  /** `columnCount`: columns of a row as the header has them. */
  constructor(window: RowWindow, { delimiter, columnCount }: { delimiter: number; columnCount: number }) {
    this.#window = window;
    this.#delimiter = delimiter;
    this.#from = new Int32Array(columnCount);
    this.#to = new Int32Array(columnCount);
    this.#texts = Array.from({ length: columnCount }, () => null);
  }

  get columnCount(): number {
    return this.#from.length;
  }

  /** Finds the cells; empty ones beyond the header's are what a delimiter at the end of each row leaves. */
  split(to: number): boolean {
    const { bytes } = this.#window;
    const [starts, ends, delimiter] = [this.#from, this.#to, this.#delimiter];
    if (this.#quotes) this.#texts.fill(null);
    this.#quotes = false;
    let from = this.#window.start;
    for (let column = 0; ; column++) {
      let stop = from;
      const quoted = bytes[from] === QUOTE && from < to;
      if (quoted) stop = closingQuote(bytes, from, to) + 1;
      while (stop < to && bytes[stop] !== delimiter) stop++;
      if (column < starts.length) {
        starts[column] = from;
        ends[column] = stop;
        if (quoted) this.#quoted(column);
      } else if (stop > from) return false;
      if (stop >= to) return column >= starts.length - 1;
      from = stop + 1;
    }
  }

  #quoted(column: number): void {
    const raw = textOf({ bytes: this.#window.bytes, from: this.#from[column]!, to: this.#to[column]!, text: null });
    const whole = /^"((?:[^"]|"")*)"$/.exec(raw);
    this.#texts[column] = whole === null ? raw : whole[1]!.replaceAll('""', '"');
    this.#quotes = true;
  }

  /** The cell of a column; one object serves them all, filled anew each time. */
  cell(index: number, cell = this.#reused): Cell {
    cell.bytes = this.#window.bytes;
    cell.from = this.#from[index]!;
    cell.to = this.#to[index]!;
    cell.text = this.#quotes ? this.#texts[index]! : null;
    return cell;
  }

  /** Date and time of two columns as one cell. */
  pair(dateIndex: number, timeIndex: number): Cell {
    const date = this.cell(dateIndex);
    const time = this.cell(timeIndex, this.#reusedHalf);
    const length = date.to - date.from + time.to - time.from + 1;
    if (date.text !== null || time.text !== null || length > this.#joined.length || date.to === date.from) {
      date.text = `${(date.text ?? textOf(date)).trim()} ${(time.text ?? textOf(time)).trim()}`.trim();
      return date;
    }
    const middle = date.to - date.from;
    this.#joined.set(date.bytes.subarray(date.from, date.to));
    this.#joined[middle] = 32;
    this.#joined.set(time.bytes.subarray(time.from, time.to), middle + 1);
    date.bytes = this.#joined;
    date.from = 0;
    date.to = length;
    return date;
  }
}
