import type { CrankBatch, MeasuredTable } from '../model/crank.ts';
import type { Engine } from '../model/unit.ts';
import { BATCH_ROWS } from './batch-queue.ts';
import { inTransaction, type Connection } from './connection.ts';
import { crankRowWriter, writeCrankRows } from './crank-rows.ts';
import { engineNumbering } from './engine-dictionary.ts';
import { GatheredCranks } from './gathered-cranks.ts';
import type { ImportHead } from './import-head.ts';
import { prepared } from './prepared.ts';

export type CrankImport = {
  /** Takes over a reader's batch, whose arrays are filled anew afterwards; writes in transactions of its own. */
  batch(batch: CrankBatch): void;
  /** Writes the batches that are still gathered. */
  flush(): void;
  /** Writes one engine's cranks. Inside the caller's transaction. */
  table(importId: number, engine: Omit<Engine, 'engineId'>, table: MeasuredTable): void;
  /** Number of an engine. Inside the caller's transaction. */
  engineId(unit: string, position: string): number;
};

/** Writes measured cranks of one import, and counts them by engine beside. */
export function crankImport(writer: Connection, head: ImportHead): CrankImport {
  const { sqlite } = writer;
  const engineId = engineNumbering(writer);
  const writeRow = crankRowWriter(sqlite);
  const link = prepared(
    sqlite,
    `insert into import_engines (import_id, engine_id, rows) values (?, ?, ?)
     on conflict (import_id, engine_id) do update set rows = rows + excluded.rows`,
  );
  let gathered: GatheredCranks | null = null;
  const flush = () => {
    if (gathered === null) return;
    const { count, engines, columns, measures } = gathered;
    const order = byKey(columns.timeUs, engines, count);
    for (let from = 0; from < count; from += BATCH_ROWS) {
      const rows = order.subarray(from, from + BATCH_ROWS);
      head.inTransaction((importId) => {
        writeCrankRows(sqlite, { importId, measures }, { engines, columns, rows });
        for (const [engine, some] of countsOf(engines, rows)) link.run(importId, engine, some);
      });
    }
    gathered.giveBack();
    gathered = null;
  };

  return {
    engineId,
    batch(batch) {
      const engines = inTransaction(writer, () => enginesOf(batch, engineId));
      gathered ??= GatheredCranks.borrow();
      gathered.add(batch, engines);
      if (gathered.isFull) flush();
    },
    flush,
    table(importId, { unit, position }, table) {
      const engine = engineId(unit, position);
      for (let row = 0; row < table.count; row++) writeRow(table.columns, row, { importId, engineId: engine });
      link.run(importId, engine, table.count);
    },
  };
}

function countsOf(engines: Int32Array, rows: Uint32Array): Map<number, number> {
  const counts = new Map<number, number>();
  for (const row of rows) counts.set(engines[row]!, (counts.get(engines[row]!) ?? 0) + 1);
  return counts;
}

function enginesOf(batch: CrankBatch, engineId: (unit: string, position: string) => number): Int32Array {
  const { count, names, unit, position } = batch;
  const engines = new Int32Array(count);
  // Numbers of this batch by index of the unit: most files have no positions.
  const ofUnit = new Int32Array(position === null ? names.length : 0);
  for (let row = 0; row < count; row++) {
    const own = unit[row]!;
    if (position !== null) engines[row] = engineId(names[own] ?? '', names[position[row]!] ?? '');
    else engines[row] = ofUnit[own] ||= engineId(names[own] ?? '', '');
  }
  return engines;
}

/** Rows in the order of the table's key: neighbours land on the same page, which doubles the speed of a mixed file. */
function byKey(timeUs: Float64Array, engines: Int32Array, count: number): Uint32Array {
  return Uint32Array.from({ length: count }, (_, row) => row).sort(
    (a, b) => engines[a]! - engines[b]! || timeUs[a]! - timeUs[b]! || a - b,
  );
}
