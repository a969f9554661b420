import { parse } from 'csv-parse/sync';
import { headerFields } from '../csv/header.ts';
import { CARRIAGE_RETURN } from '../bytes/line-ends.ts';
import type { ByteStream, ReaderSink, ReadReport } from '../reader.ts';
import { RecordRows, type RecordPlan } from './record-rows.ts';
import { shown, textOf } from '../csv/row-scanner.ts';
import { isBlank, RowWindow, ROW_FAULTS, walkWindows } from '../csv/row-window.ts';

const BATCH_ROWS = 1_000;
const CSV = { relax_quotes: true, relax_column_count: true, record_delimiter: '\n' } as const;
const UTF_8 = new TextDecoder('utf-8', { fatal: true });

/**
 * Reads a register or record file, streamed: the window finds where rows end (and what a stray quote or an endless line
 * spoils), the csv-parse package splits some hundred whole rows at a time.
 */
export async function readRecords<Row>(
  bytes: ByteStream,
  sink: ReaderSink,
  plan: RecordPlan<Row>,
): Promise<ReadReport> {
  const rows = new RecordRows(sink, plan);
  const reading = new Reading(rows);
  const fault = await walkWindows(bytes, reading.window, async () => reading.rows());
  await reading.deliver();
  if (fault !== null) rows.refuse({ line: reading.window.line, field: '', value: '', reason: fault.message });
  await rows.deliver();
  return rows.report();
}

/** Cells of each row; rows that confuse one another are split one by one. */
function cellsOf(texts: readonly string[]): string[][] {
  const rows: string[][] = parse(texts.join('\n'), CSV);
  return rows.length === texts.length ? rows : texts.map((text) => parse(text, CSV).flat());
}

class Reading<Row> {
  readonly window = new RowWindow();
  readonly #rows: RecordRows<Row>;
  #hasHeader = false;
  #texts: { line: number; text: string }[] = [];

  constructor(rows: RecordRows<Row>) {
    this.#rows = rows;
  }

  /** Reads every row that is whole. */
  async rows(): Promise<void> {
    const { window } = this;
    for (let end = window.nextRowEnd(); end >= 0; end = window.nextRowEnd()) {
      if (window.fault !== null) this.#refuseRow(end, ROW_FAULTS[window.fault]);
      else if (!this.#hasHeader) this.#header(end);
      else if (!isBlank(window, end)) this.#hold(end);
      window.pass(end);
      if (this.#texts.length + this.#rows.waiting >= BATCH_ROWS) await this.deliver();
    }
  }

  async deliver(): Promise<void> {
    const cells = this.#texts.length === 0 ? [] : cellsOf(this.#texts.map(({ text }) => text));
    for (const [index, row] of cells.entries()) this.#rows.add(row, this.#texts[index]!.line);
    this.#texts = [];
    await this.#rows.deliver();
  }

  #header(end: number): void {
    this.#rows.columns = headerFields(this.window.bytes.subarray(this.window.start, end));
    this.#hasHeader = true;
  }

  #hold(end: number): void {
    const { bytes, start, line } = this.window;
    const to = bytes[end - 1] === CARRIAGE_RETURN ? end - 1 : end;
    try {
      this.#texts.push({ line, text: UTF_8.decode(bytes.subarray(start, to)) });
    } catch {
      this.#refuseRow(to, 'row requires text in UTF-8, or the encoding in a profile');
    }
  }

  #refuseRow(end: number, reason: string): void {
    const { bytes, start, line } = this.window;
    this.#rows.refuse({ line, field: '', value: shown(textOf(bytes, start, end)), reason });
  }
}
