import type { SetAside } from '../../model/set-aside.ts';
import { RowFault } from './cell.ts';
import type { ColumnPlan } from '../csv/column-plan.ts';
import type { ColumnTable, TableBatch, Wanted } from '../columns/column-table.ts';
import { fillColumn } from '../columns/fill-column.ts';
import type { ReaderSink } from '../reader.ts';
import { shown, type RowScanner } from '../csv/row-scanner.ts';
import { RowDelivery } from '../csv/row-delivery.ts';
import { InstantScanner } from '../csv/scan-number.ts';
import { BATCH_ROWS, SET_ASIDE_ROWS, type ScanCount, type ScanPlan } from '../csv/scanned-csv.ts';

/**
 * Reads a table of columns into a sink, as `scanCsv` reads a CSV file. Columns are copied whole where each value is
 * plainly sound; every other row is written as a row of CSV and goes to the scanner of CSV rows, so that one place
 * decides what is read and what is set aside.
 */
export async function scanTable(table: ColumnTable, sink: ReaderSink, plan: ScanPlan): Promise<ScanCount> {
  const columns = table.columns.filter((name, index) => table.columns.indexOf(name) === index);
  const scanner = plan.scanner(columns);
  const scan = new TableScan(scanner, { sink, plan });
  const wanted = new Map<string, Wanted>();
  for (const [index, column] of columns.entries()) {
    const each = scanner.plans[index]!;
    if (each !== null) wanted.set(column, wantedBy(each));
  }
  for await (const batch of table.batches(wanted)) await scan.add(batch);
  return { ...(await scan.end()), columns };
}

function wantedBy({ kind }: ColumnPlan): Wanted {
  return kind === 'number' || kind === 'instant' ? kind : 'text';
}

class TableScan {
  readonly #scanner: RowScanner;
  readonly #delivery: RowDelivery;
  /** The plans of the columns that are read, in the order of the columns of a batch. */
  readonly #plans: readonly ColumnPlan[];
  /** 1 for each row of a piece that the scanner of rows has to look at. */
  readonly #odd = new Uint8Array(BATCH_ROWS);
  readonly #times = new InstantScanner();

  constructor(scanner: RowScanner, { sink, plan }: { sink: ReaderSink; plan: ScanPlan }) {
    this.#scanner = scanner;
    this.#delivery = new RowDelivery(sink, async (count) => plan.deliver(count));
    this.#plans = scanner.plans.filter((each) => each !== null);
  }

  async add(batch: TableBatch): Promise<void> {
    for (const row of batch.setAside) this.#delivery.setAside(row);
    for (let from = 0; from < batch.count;) {
      const to = Math.min(batch.count, from + BATCH_ROWS - this.#delivery.filled);
      this.#piece(batch, from, to);
      from = to;
      if (this.#delivery.filled === BATCH_ROWS) await this.#delivery.handOn();
    }
    if (this.#delivery.waiting >= SET_ASIDE_ROWS) await this.#delivery.handOn();
  }

  async end(): Promise<{ taken: number; setAside: number }> {
    return this.#delivery.end();
  }

  /** Rows [from, to) of a batch; there is room for them. */
  #piece(batch: TableBatch, from: number, to: number): void {
    const { lines, dictionary, latestUs } = this.#scanner;
    const odd = this.#odd.fill(0, 0, to - from);
    let oddRows = 0;
    for (const [index, plan] of this.#plans.entries()) {
      const piece = { column: batch.columns[index]!, from, to, at: this.#delivery.filled };
      oddRows += fillColumn(piece, plan, { odd, dictionary, latestUs, times: this.#times });
    }
    lines.set(batch.lines.subarray(from, to), this.#delivery.filled);
    if (oddRows === 0) this.#delivery.filled += to - from;
    else this.#closeUp(batch, from, to);
  }

  /** Looks at the odd rows of a piece and moves the others over the gaps that those set aside leave. */
  #closeUp(batch: TableBatch, from: number, to: number): void {
    const first = this.#delivery.filled;
    for (let row = from; row < to; row++) {
      const at = first + row - from;
      if (this.#odd[row - from] === 0) {
        if (at !== this.#delivery.filled) this.#move(at, this.#delivery.filled);
        this.#delivery.filled++;
        continue;
      }
      const fault = this.#scan(batch, row);
      if (fault === null) this.#delivery.filled++;
      else this.#delivery.setAside(fault);
    }
  }

  #move(from: number, to: number): void {
    for (const { into } of this.#plans) into[to] = into[from]!;
    this.#scanner.lines[to] = this.#scanner.lines[from]!;
  }

  #scan({ columns, lines }: TableBatch, row: number): SetAside | null {
    const line = lines[row]!;
    const cells: string[] = [];
    let read = 0;
    for (const plan of this.#scanner.plans) {
      const text = plan === null ? '' : columns[read++]!.text(row);
      if (text instanceof RowFault) {
        const { field, value, reason } = text;
        return { line, field, value: shown(value), reason: `${field} requires ${reason}` };
      }
      cells.push(quoted(text));
    }
    const bytes = Buffer.from(cells.join(','));
    return this.#scanner.read({ bytes, start: 0, line }, bytes.length, this.#delivery.filled);
  }
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
