import { parse } from 'csv-parse/sync';
import type { SetAside, UnreadableFile } from '../model/set-aside.ts';
import { CellFault, RowFault, type Parse } from './cell.ts';
import { headerFields } from './header.ts';
import { CARRIAGE_RETURN } from './line-ends.ts';
import type { ByteStream, Lined, ReaderSink, ReadReport } from './reader.ts';
import { shown, textOf } from './row-scanner.ts';
import { isBlank, RowWindow, ROW_FAULTS, walkWindows } from './row-window.ts';

/** One column of a register or record and the field of the row that it fills. */
export type Field<Row, Name extends keyof Row = keyof Row> = Name extends keyof Row
  ? { column: string; name: Name; required: boolean; parse: Parse<Exclude<Row[Name], null>>; missing: Row[Name] }
  : never;

export type RecordPlan<Row> = {
  kind: ReadReport['kind'];
  fields: readonly Field<Row>[];
  /** Last touches that need the whole row or the file's columns; the rows in batches. */
  complete?: (row: Row, columns: readonly string[]) => Row | RowFault;
  note?: (row: Row) => string | null;
  deliver: (rows: Lined<Row>[], sink: ReaderSink) => Promise<void>;
};

const BATCH_ROWS = 1_000;
const MOST_NOTES = 100;
const CSV = { relax_quotes: true, relax_column_count: true, record_delimiter: '\n' } as const;
const UTF_8 = new TextDecoder('utf-8', { fatal: true });

/**
 * Reads a register or record file, streamed: the window finds where rows end (and what a stray quote or an endless line
 * spoils), the csv-parse package splits some hundred whole rows at a time. Each row is read by a table of fields; a row
 * with a field that cannot be used is set aside with that field.
 */
export async function readRecords<Row>(
  bytes: ByteStream,
  sink: ReaderSink,
  plan: RecordPlan<Row>,
): Promise<ReadReport> {
  const reading = new Reading(sink, plan);
  const fault = await walkWindows(bytes, reading.window, async () => reading.rows());
  return reading.end(fault);
}

/** Cells of each row; rows that confuse one another are split one by one. */
function cellsOf(texts: readonly string[]): string[][] {
  const rows: string[][] = parse(texts.join('\n'), CSV);
  return rows.length === texts.length ? rows : texts.map((text) => parse(text, CSV).flat());
}

class Reading<Row> {
  readonly #sink: ReaderSink;
  readonly #plan: RecordPlan<Row>;
  readonly window = new RowWindow();
  #columns: string[] | null = null;
  #texts: { line: number; text: string }[] = [];
  #rows: Lined<Row>[] = [];
  #refused: SetAside[] = [];
  #taken = 0;
  #setAside = 0;
  readonly #notes: string[] = [];

  constructor(sink: ReaderSink, plan: RecordPlan<Row>) {
    this.#sink = sink;
    this.#plan = plan;
  }

  /** Reads every row that is whole. */
  async rows(): Promise<void> {
    const { window } = this;
    for (let end = window.nextRowEnd(); end >= 0; end = window.nextRowEnd()) {
      if (window.fault !== null) this.#refuseRow(end, ROW_FAULTS[window.fault]);
      else if (this.#columns === null) this.#columns = headerFields(window.bytes.subarray(window.start, end));
      else if (!isBlank(window, end)) this.#hold(end);
      window.pass(end);
      if (this.#texts.length + this.#refused.length >= BATCH_ROWS) await this.#deliver();
    }
  }

  async end(brokenBy: UnreadableFile | null): Promise<ReadReport> {
    await this.#deliver();
    if (brokenBy !== null) this.#refuse({ line: this.window.line, field: '', value: '', reason: brokenBy.message });
    await this.#deliver();
    const known = this.#plan.fields.map(({ column }) => column);
    const unknownColumns = (this.#columns ?? []).filter((column) => !known.includes(column));
    const counts = { taken: this.#taken, setAside: this.#setAside };
    return { kind: this.#plan.kind, ...counts, unknownColumns, notes: this.#notes };
  }

  #hold(end: number): void {
    const { bytes, start, line } = this.window;
    const to = bytes[end - 1] === CARRIAGE_RETURN ? end - 1 : end;
    try {
      this.#texts.push({ line, text: UTF_8.decode(bytes.subarray(start, to)) });
    } catch {
      this.#refuseRow(to, 'row requires text in UTF-8');
    }
  }

  #readHeld(): void {
    if (this.#texts.length === 0) return;
    const columns = this.#columns ?? [];
    for (const [index, cells] of cellsOf(this.#texts.map(({ text }) => text)).entries()) {
      const { line } = this.#texts[index]!;
      const row = this.#read(cells, columns, line);
      if (row !== null) this.#use(row, line);
    }
    this.#texts = [];
  }

  #read(cells: readonly string[], columns: readonly string[], line: number): Row | null {
    if (cells.length !== columns.length) {
      const reason = `row requires ${columns.length} fields as in the header`;
      this.#refuse({ line, field: '', value: shown(cells.join(',')), reason });
      return null;
    }
    const row: Record<string, unknown> = {};
    for (const field of this.#plan.fields) {
      const cell = (cells[columns.indexOf(field.column)] ?? '').trim();
      const value = cell === '' ? this.#missing(field) : field.parse(cell);
      if (value instanceof CellFault) {
        const reason = `${field.column} requires ${value.reason}`;
        this.#refuse({ line, field: field.column, value: shown(cell), reason });
        return null;
      }
      row[String(field.name)] = value;
    }
    const whole = this.#plan.complete?.(row as Row, columns) ?? (row as Row);
    if (!(whole instanceof RowFault)) return whole;
    const { field, value, reason } = whole;
    this.#refuse({ line, field, value: shown(value), reason: `${field} requires ${reason}` });
    return null;
  }

  #missing(field: Field<Row>): Row[keyof Row] | CellFault {
    return field.required ? new CellFault('a value') : field.missing;
  }

  #use(row: Row, line: number): void {
    this.#taken++;
    this.#rows.push({ line, row });
    const note = this.#plan.note?.(row) ?? null;
    if (note !== null && this.#notes.length < MOST_NOTES) this.#notes.push(`line ${line}: ${note}`);
  }

  #refuseRow(end: number, reason: string): void {
    const { bytes, start, line } = this.window;
    this.#refuse({ line, field: '', value: shown(textOf(bytes, start, end)), reason });
  }

  #refuse(row: SetAside): void {
    this.#setAside++;
    this.#refused.push(row);
  }

  async #deliver(): Promise<void> {
    this.#readHeld();
    if (this.#rows.length > 0) await this.#plan.deliver(this.#rows, this.#sink);
    if (this.#refused.length > 0) await this.#sink.setAside(this.#refused);
    this.#rows = [];
    this.#refused = [];
  }
}
