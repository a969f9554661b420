import type { CrankBatch, MeasuredTable } from '../model/crank.ts';
import { BATCH_ROWS } from './batch-queue.ts';
import { inTransaction, type Connection } from './connection.ts';
import { crankRowWriter } from './crank-rows.ts';
import { engineNumbering } from './engine-dictionary.ts';

export type CrankImport = {
  /** Writes a reader's batch at once, in transactions of its own: its arrays are filled anew afterwards. */
  batch(batch: CrankBatch): void;
  /** Writes one engine's cranks. Inside the caller's transaction. */
  table(unit: string, position: string, table: MeasuredTable): void;
  /** Number of an engine. Inside the caller's transaction. */
  engineId(unit: string, position: string): number;
};

/** Writes measured cranks of one import, and counts them by engine beside. */
export function crankImport(writer: Connection, importId: number): CrankImport {
  const engineId = engineNumbering(writer);
  const writeRow = crankRowWriter(writer.sqlite, importId);
  const link = writer.sqlite.prepare<[number, number, number]>(
    `insert into import_engines (import_id, engine_id, rows) values (?, ?, ?)
     on conflict (import_id, engine_id) do update set rows = rows + excluded.rows`,
  );

  const writeSome = (batch: CrankBatch, engines: Int32Array, rows: Uint32Array) => {
    const counts = new Map<number, number>();
    for (const row of rows) {
      const engine = engines[row]!;
      counts.set(engine, (counts.get(engine) ?? 0) + 1);
      writeRow(batch.columns, row, engine);
    }
    for (const [engine, count] of counts) link.run(importId, engine, count);
  };

  return {
    engineId,
    batch(batch) {
      const engines = inTransaction(writer, () => enginesOf(batch, engineId));
      const order = byKey(batch, engines);
      for (let from = 0; from < batch.count; from += BATCH_ROWS)
        inTransaction(writer, () => writeSome(batch, engines, order.subarray(from, from + BATCH_ROWS)));
    },
    table(unit, position, table) {
      const engine = engineId(unit, position);
      for (let row = 0; row < table.count; row++) writeRow(table.columns, row, engine);
      link.run(importId, engine, table.count);
    },
  };
}

function enginesOf(batch: CrankBatch, engineId: (unit: string, position: string) => number): Int32Array {
  const engines = new Int32Array(batch.count);
  for (let row = 0; row < batch.count; row++) {
    const unit = batch.names[batch.unit[row]!] ?? '';
    const position = batch.position ? (batch.names[batch.position[row]!] ?? '') : '';
    engines[row] = engineId(unit, position);
  }
  return engines;
}

/** Rows in the order of the table's key: neighbours land on the same page, which doubles the speed of a mixed file. */
function byKey(batch: CrankBatch, engines: Int32Array): Uint32Array {
  const { timeUs } = batch.columns;
  return Uint32Array.from({ length: batch.count }, (_, row) => row).sort(
    (a, b) => engines[a]! - engines[b]! || timeUs[a]! - timeUs[b]! || a - b,
  );
}
