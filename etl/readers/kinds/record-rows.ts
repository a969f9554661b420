import type { SetAside } from '../../model/set-aside.ts';
import { columnsAside } from '../csv/columns-aside.ts';
import { CellFault, RowFault, type Parse } from './cell.ts';
import type { Lined, ReaderSink, ReadReport } from '../reader.ts';
import { shown } from '../csv/row-scanner.ts';

/** One column of a register or record and the field of the row that it fills. */
export type Field<Row, Name extends keyof Row = keyof Row> = Name extends keyof Row
  ? { column: string; name: Name; required: boolean; parse: Parse<Exclude<Row[Name], null>>; missing: Row[Name] }
  : never;

export type Doubts<Row> = { see(row: Row, line: number): void; notes(): string[] };

export type RecordPlan<Row> = {
  kind: ReadReport['kind'];
  fields: readonly Field<Row>[];
  /** Last touches that need the whole row or the file's columns; the rows in batches. */
  complete?: (row: Row, columns: readonly string[]) => Row | RowFault;
  note?: (row: Row) => string | null;
  /** What stands out over a whole file; made anew for each. */
  doubts?: (nowUs: number | undefined) => Doubts<Row>;
  nowUs?: number | undefined;
  deliver: (rows: Lined<Row>[], sink: ReaderSink) => Promise<void>;
};

const MOST_NOTES = 100;

/**
 * Rows of a register or record out of cells of text, whatever file they stood in. Each row is read by a table of
 * fields; a row with a field that cannot be used is set aside with that field.
 */
export class RecordRows<Row> {
  /** Names of the columns, in the order of the cells. */
  columns: readonly string[] = [];
  readonly #sink: ReaderSink;
  readonly #plan: RecordPlan<Row>;
  #rows: Lined<Row>[] = [];
  #refused: SetAside[] = [];
  #taken = 0;
  #setAside = 0;
  readonly #notes: string[] = [];
  readonly #doubts: Doubts<Row> | undefined;

  constructor(sink: ReaderSink, plan: RecordPlan<Row>) {
    this.#sink = sink;
    this.#plan = plan;
    this.#doubts = plan.doubts?.(plan.nowUs);
  }

  /** Rows that wait for `deliver`. */
  get waiting(): number {
    return this.#rows.length + this.#refused.length;
  }

  /** Reads one row, or sets it aside. */
  add(cells: readonly string[], line: number): void {
    if (cells.length === this.columns.length) {
      const row = this.#read(cells, line);
      if (row !== null) this.#use(row, line);
      return;
    }
    const reason = `row requires ${this.columns.length} fields as in the header`;
    this.refuse({ line, field: '', value: shown(cells.join(',')), reason });
  }

  refuse(row: SetAside): void {
    this.#setAside++;
    this.#refused.push(row);
  }

  async deliver(): Promise<void> {
    if (this.#rows.length > 0) await this.#plan.deliver(this.#rows, this.#sink);
    if (this.#refused.length > 0) await this.#sink.setAside(this.#refused);
    this.#rows = [];
    this.#refused = [];
  }

  report(): ReadReport {
    const known = this.#plan.fields.map(({ column }) => column);
    const unknownColumns = columnsAside(this.columns, known);
    const counts = { taken: this.#taken, setAside: this.#setAside };
    return {
      kind: this.#plan.kind,
      ...counts,
      unknownColumns,
      notes: [...this.#notes, ...(this.#doubts?.notes() ?? [])],
    };
  }

  #read(cells: readonly string[], line: number): Row | null {
    const { columns } = this;
    const row: Record<string, unknown> = {};
    for (const field of this.#plan.fields) {
      const cell = (cells[columns.indexOf(field.column)] ?? '').trim();
      const value = cell === '' ? this.#missing(field) : field.parse(cell);
      if (value instanceof CellFault) {
        const reason = `${field.column} requires ${value.reason}`;
        this.refuse({ line, field: field.column, value: shown(cell), reason });
        return null;
      }
      row[String(field.name)] = value;
    }
    const whole = this.#plan.complete?.(row as Row, columns) ?? (row as Row);
    if (!(whole instanceof RowFault)) return whole;
    const { field, value, reason } = whole;
    this.refuse({ line, field, value: shown(value), reason: `${field} requires ${reason}` });
    return null;
  }

  #missing(field: Field<Row>): Row[keyof Row] | CellFault {
    return field.required ? new CellFault('a value') : field.missing;
  }

  #use(row: Row, line: number): void {
    this.#taken++;
    this.#rows.push({ line, row });
    this.#doubts?.see(row, line);
    const note = this.#plan.note?.(row) ?? null;
    if (note !== null && this.#notes.length < MOST_NOTES) this.#notes.push(`line ${line}: ${note}`);
  }
}
