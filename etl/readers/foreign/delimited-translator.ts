import type { ImportProfile } from '../../model/import-profile.ts';
import type { SetAside } from '../../model/set-aside.ts';
import { CellFault } from '../kinds/cell.ts';
import { CellWriter, OutBytes, textOf } from './delimited-cells.ts';
import { DelimitedRow } from './delimited-row.ts';
import { writeInstant } from './delimited-number.ts';
import { CARRIAGE_RETURN, NEWLINE } from '../bytes/line-ends.ts';
import { instantText } from '../profile/mapped-column.ts';
import type { RowMapping } from '../profile/row-mapping.ts';
import { shown } from '../csv/row-scanner.ts';
import { scanNumber } from '../csv/scan-number.ts';
import { COMMA, isBlank, RowWindow, ROW_FAULTS } from '../csv/row-window.ts';

/** Written bytes are handed on once there are so many: they then still lie in the processor's cache. */
const FLUSH_BYTES = 1 << 18;
const SET_ASIDE_ROWS = 1_000;

export type Translation = {
  mapping: RowMapping;
  profile: ImportProfile;
  /** Columns of a row as the header has them. */
  columnCount: number;
  /** 1-based line of the first row that holds data. */
  dataLine: number;
  onSetAside(rows: SetAside[]): Promise<void>;
};

/** Row for row from the window of a foreign text to bytes as the contract's columns are written. */
export class Translator {
  readonly window: RowWindow;
  readonly out = new OutBytes();
  readonly refused: SetAside[] = [];
  readonly #translation: Translation;
  /** Byte of the decimal mark. */
  readonly #mark: number;
  readonly #writers: { writer: CellWriter; index: number; half: number; field: string }[];
  readonly #constants: Buffer;
  readonly #cells: DelimitedRow;
  #row = -1;
  /** The line of the file at which the written text stands. */
  #line: number;

  constructor(translation: Translation) {
    const { profile, mapping, columnCount } = translation;
    this.#translation = translation;
    const delimiter = (profile.delimiter ?? ',').charCodeAt(0);
    this.window = new RowWindow(delimiter);
    this.#cells = new DelimitedRow(this.window, { delimiter, columnCount });
    this.window.line = translation.dataLine;
    this.#line = translation.dataLine;
    const { decimalMark = '.', missingMarks = [] } = profile;
    this.#mark = decimalMark.charCodeAt(0);
    this.#writers = mapping.single.map((column) => ({
      writer: new CellWriter(column, { decimalMark, missingMarks }),
      index: column.index,
      half: mapping.halves.get(column.field) ?? -1,
      field: column.field,
    }));
    const constants = new OutBytes();
    for (const constant of mapping.constants) {
      constants.byte(COMMA);
      constants.cell(constant);
    }
    this.#constants = constants.bytes.subarray(0, constants.length);
  }

  /** Writes rows until the window needs more bytes (false) or enough is written (true). */
  rows(): boolean {
    const { window, out } = this;
    this.#blankLines();
    for (let end = window.nextRowEnd(); end >= 0; end = window.nextRowEnd()) {
      const began = out.length;
      out.reserve(2 * (end - window.start) + this.#constants.length + 64 * (this.#writers.length + 2));
      let written = 0;
      if (window.fault !== null) this.#refuse('', rowText(window, end), ROW_FAULTS[window.fault]);
      else if (!isBlank(window, end)) {
        this.#row++;
        written = this.#translate(end);
      }
      if (written < 0) out.length = began;
      else this.#line += written;
      window.pass(end);
      this.#blankLines();
      if (out.length >= FLUSH_BYTES || this.refused.length >= SET_ASIDE_ROWS) return true;
    }
    return false;
  }

  /** Ends the row, and makes up for the lines of rows and cells that are not written. */
  #blankLines(): void {
    const { window, out } = this;
    out.reserve(window.line - this.#line);
    for (; this.#line < window.line; this.#line++) out.byte(NEWLINE);
  }

  /** Writes one row without its line end; returns the line ends inside, −1 for a row that cannot be used. */
  #translate(end: number): number {
    const { window, out } = this;
    const { bytes, start } = window;
    const to = end > start && bytes[end - 1] === CARRIAGE_RETURN ? end - 1 : end;
    if (!this.#cells.split(to)) {
      const reason = `row requires ${this.#cells.columnCount} fields as in the header`;
      return this.#refuse('', rowText(window, to), reason);
    }
    let lines = 0;
    for (let place = 0; place < this.#writers.length; place++) {
      const { writer, index, half, field } = this.#writers[place]!;
      if (place > 0) out.byte(COMMA);
      const cell = half < 0 ? this.#cells.cell(index) : this.#cells.pair(index, half);
      const written = writer.write(cell, out);
      if (written instanceof CellFault)
        return this.#refuse(field, (cell.text ?? textOf(cell)).trim(), `${field} requires ${written.reason}`);
      lines += written;
    }
    if (!this.#writeFromStart()) return -1;
    out.bytes.set(this.#constants, out.length);
    out.length += this.#constants.length;
    return lines;
  }

  /** The instant of a row whose time is counted from the start of the recording. */
  #writeFromStart(): boolean {
    const { fromStart, timeIndex } = this.#translation.mapping;
    if (fromStart === null) return true;
    const { out } = this;
    const cell = timeIndex < 0 || fromStart.counted ? null : this.#cells.cell(timeIndex);
    const number =
      cell === null
        ? this.#row
        : cell.text === null
          ? scanNumber(cell.bytes, cell.from, cell.to, this.#mark)
          : Number.NaN;
    const quick = Number.isNaN(number) ? Number.NaN : fromStart.ofNumber(number);
    const text = cell === null || !Number.isNaN(quick) ? '' : (cell.text ?? textOf(cell)).trim();
    const us = Number.isNaN(quick) ? fromStart.instant(text, this.#row) : quick;
    if (us instanceof CellFault) {
      this.#refuse('time', text, `time requires ${us.reason}`);
      return false;
    }
    if (this.#writers.length > 0) out.byte(COMMA);
    const end = writeInstant(out.bytes, out.length, us);
    if (end < 0) out.cell(instantText(us));
    else out.length = end;
    return true;
  }

  #refuse(field: string, value: string, reason: string): -1 {
    this.refused.push({ line: this.window.line, field, value: shown(value), reason });
    return -1;
  }
}

function rowText({ bytes, start }: RowWindow, end: number): string {
  return textOf({ bytes, from: start, to: Math.min(end, start + 4096), text: null });
}
