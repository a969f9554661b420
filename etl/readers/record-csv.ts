import { parse } from 'csv-parse';
import { UnreadableFile, type SetAside } from '../model/set-aside.ts';
import { CellFault, type Parse } from './cell.ts';
import { unixLineEnds } from './line-ends.ts';
import type { ByteStream, Lined, ReaderSink, ReadReport } from './reader.ts';
import { shown } from './row-scanner.ts';

/** One column of a register or record and the field of the row that it fills. */
export type Field<Row, Name extends keyof Row = keyof Row> = Name extends keyof Row
  ? { column: string; name: Name; required: boolean; parse: Parse<Exclude<Row[Name], null>>; missing: Row[Name] }
  : never;

export type RecordPlan<Row> = {
  kind: ReadReport['kind'];
  fields: readonly Field<Row>[];
  /** Last touches that need the whole row or the file's columns; the rows in batches. */
  complete?: (row: Row, columns: readonly string[]) => Row;
  note?: (row: Row) => string | null;
  deliver: (rows: Lined<Row>[], sink: ReaderSink) => Promise<void>;
};

const BATCH_ROWS = 1_000;
const MOST_NOTES = 100;
const MOST_ROW_CHARACTERS = 1 << 20;

type ParsedRow = { record: string[]; info: { lines: number; error?: Error } };

/**
 * Reads a register or record file with the csv-parse package, streamed: quotes, newlines inside quotes, CRLF. Each
 * row is read by a table of fields; a row with a field that cannot be used is set aside with that field.
 */
export async function readRecords<Row>(
  bytes: ByteStream,
  sink: ReaderSink,
  plan: RecordPlan<Row>,
): Promise<ReadReport> {
  const reading = new Reading(sink, plan);
  const parser = parse({
    bom: true,
    info: true,
    relax_quotes: true,
    relax_column_count: true,
    skip_empty_lines: true,
    max_record_size: MOST_ROW_CHARACTERS,
  });
  const fed = feed(bytes, parser);
  try {
    for await (const row of parser as AsyncIterable<ParsedRow>) await reading.row(row.record, row.info.lines);
  } catch (error) {
    reading.brokenOff(error);
  }
  reading.brokenOff(await fed);
  return reading.end();
}

/** Writes the stream into the parser; what was good before a break is parsed before the break is told. */
async function feed(bytes: ByteStream, parser: NodeJS.WritableStream): Promise<unknown> {
  let fault: unknown = null;
  try {
    for await (const chunk of unixLineEnds(bytes)) {
      if (!parser.writable) break;
      if (!parser.write(Buffer.from(chunk))) await drained(parser);
    }
  } catch (error) {
    fault = error;
  }
  parser.end();
  return fault;
}

async function drained(stream: NodeJS.WritableStream): Promise<void> {
  await new Promise<void>((resolve) => {
    const settle = () => {
      for (const event of ['drain', 'close', 'error']) stream.off(event, settle);
      resolve();
    };
    for (const event of ['drain', 'close', 'error']) stream.on(event, settle);
  });
}

class Reading<Row> {
  readonly #sink: ReaderSink;
  readonly #plan: RecordPlan<Row>;
  #columns: string[] | null = null;
  #rows: Lined<Row>[] = [];
  #refused: SetAside[] = [];
  #taken = 0;
  #setAside = 0;
  #line = 1;
  readonly #notes: string[] = [];

  constructor(sink: ReaderSink, plan: RecordPlan<Row>) {
    this.#sink = sink;
    this.#plan = plan;
  }

  async row(cells: string[], line: number): Promise<void> {
    this.#line = line;
    if (this.#columns === null) {
      this.#columns = cells.map((name) => name.trim().toLowerCase());
      return;
    }
    if (cells.every((cell) => cell.trim() === '')) return;
    const row = this.#read(cells, this.#columns, line);
    if (row === null) this.#setAside++;
    else this.#use(row, line);
    if (this.#rows.length + this.#refused.length >= BATCH_ROWS) await this.#deliver();
  }

  brokenOff(error: unknown): void {
    if (error === null) return;
    const csv = error instanceof Error && 'code' in error && String(error.code).startsWith('CSV_');
    if (!(error instanceof UnreadableFile) && !csv) throw error;
    this.#refuse({ line: this.#line, field: '', value: '', reason: error.message });
    this.#setAside++;
  }

  async end(): Promise<ReadReport> {
    await this.#deliver();
    const known = this.#plan.fields.map(({ column }) => column);
    const unknownColumns = (this.#columns ?? []).filter((column) => !known.includes(column));
    const counts = { taken: this.#taken, setAside: this.#setAside };
    return { kind: this.#plan.kind, ...counts, unknownColumns, notes: this.#notes };
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
      if (value instanceof CellFault || cell.includes('\uFFFD')) {
        const requires = value instanceof CellFault ? value.reason : 'text in UTF-8';
        this.#refuse({ line, field: field.column, value: shown(cell), reason: `${field.column} requires ${requires}` });
        return null;
      }
      row[String(field.name)] = value;
    }
    const whole = row as Row;
    return this.#plan.complete?.(whole, columns) ?? whole;
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

  #refuse(row: SetAside): void {
    this.#refused.push(row);
  }

  async #deliver(): Promise<void> {
    if (this.#rows.length > 0) await this.#plan.deliver(this.#rows, this.#sink);
    if (this.#refused.length > 0) await this.#sink.setAside(this.#refused);
    this.#rows = [];
    this.#refused = [];
  }
}
