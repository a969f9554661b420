import type { UnreadableFile } from '../../model/set-aside.ts';
import type { ByteStream, ReaderSink } from '../reader.ts';
import { firstOfEachName } from './columns-aside.ts';
import { headerFields } from './header.ts';
import { RowDelivery, type DeliverBatch } from './row-delivery.ts';
import { shown, textOf, type RowScanner } from './row-scanner.ts';
import type { FastRows } from './fast-rows.ts';
import { COMMA, isBlank, RowWindow, ROW_FAULTS, walkWindows } from './row-window.ts';
import { borrowScanMemory, giveBackScanMemory, type ScanMemory } from './scan-memory.ts';
import { BATCH_ROWS } from './steady-layout.ts';
import { SteadyRows } from './steady-rows.ts';

export { BATCH_ROWS } from './steady-layout.ts';

/** Set-aside rows that are told at once. */
export const SET_ASIDE_ROWS = 1_000;

/** What turns the header into a scanner, and a filled batch into a call of the sink. */
export type ScanPlan = {
  scanner(columns: readonly string[]): RowScanner;
  deliver: DeliverBatch;
};

export type ScanCount = { taken: number; setAside: number; columns: string[] };

/**
 * Reads a CSV file (RFC 4180) row by row through a scanner, batch by batch into a sink. Memory does not grow with the
 * file. A file that breaks off (a truncated gzip) still gives the rows before the break; the break is set aside.
 */
export async function scanCsv(bytes: ByteStream, sink: ReaderSink, plan: ScanPlan): Promise<ScanCount> {
  const memory = borrowScanMemory();
  try {
    const scan = new Scan(sink, plan, memory);
    const fault = await walkWindows(bytes, scan.window, async () => scan.rows());
    if (fault !== null) scan.brokenOff(fault);
    return await scan.end();
  } finally {
    giveBackScanMemory(memory);
  }
}

class Scan {
  readonly window: RowWindow;
  readonly #plan: ScanPlan;
  readonly #delivery: RowDelivery;
  readonly #memory: ScanMemory | null;
  #scanner: RowScanner | null = null;
  /** Reads what is plain. */
  #plain: FastRows | SteadyRows | null = null;
  #columns: string[] = [];

  constructor(sink: ReaderSink, plan: ScanPlan, memory: ScanMemory | null) {
    this.window = memory === null ? new RowWindow() : new RowWindow(COMMA, memory.window);
    this.#plan = plan;
    this.#memory = memory;
    this.#delivery = new RowDelivery(sink, async (count) => plan.deliver(count));
  }

  /** Reads every row that is whole. */
  async rows(): Promise<void> {
    const { window } = this;
    const delivery = this.#delivery;
    for (;;) {
      await this.#plainRows();
      const end = window.nextRowEnd();
      if (end < 0) return;
      if (window.fault !== null) this.#refuse(end, ROW_FAULTS[window.fault]);
      else if (this.#scanner === null) this.#header(end);
      else if (!isBlank(window, end)) {
        const fault = this.#scanner.read(window, end, delivery.filled);
        if (fault === null) delivery.filled++;
        else delivery.setAside(fault);
      }
      window.pass(end);
      if (delivery.filled === BATCH_ROWS || delivery.waiting >= SET_ASIDE_ROWS) await delivery.handOn();
    }
  }

  /** As many plain rows as come one after the other. */
  async #plainRows(): Promise<void> {
    const plain = this.#plain;
    if (plain === null) return;
    const delivery = this.#delivery;
    for (;;) {
      delivery.filled = plain.read(this.window, delivery.filled, BATCH_ROWS);
      if (delivery.filled < BATCH_ROWS) return;
      await delivery.handOn();
    }
  }

  brokenOff(error: UnreadableFile): void {
    this.#delivery.setAside({ line: this.window.line, field: '', value: '', reason: error.message });
  }

  async end(): Promise<ScanCount> {
    return { ...(await this.#delivery.end()), columns: this.#columns };
  }

  #header(end: number): void {
    this.#columns = headerFields(this.window.bytes.subarray(this.window.start, end));
    const scanner = this.#plan.scanner(firstOfEachName(this.#columns));
    this.#scanner = scanner;
    const isSteady = this.#memory !== null && SteadyRows.canRead(scanner, this.#memory);
    this.#plain = isSteady ? new SteadyRows(this.#memory, scanner) : scanner.fast;
  }

  #refuse(end: number, reason: string): void {
    const { bytes, start, line } = this.window;
    this.#delivery.setAside({ line, field: '', value: shown(textOf(bytes, start, end)), reason });
  }
}
