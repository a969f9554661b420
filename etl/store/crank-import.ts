import { MEASURED_COLUMNS, type CrankBatch, type MeasuredColumn, type MeasuredTable } from '../model/crank.ts';
import { BATCH_ROWS } from './batch-queue.ts';
import { inTransaction, type Connection } from './connection.ts';
import { crankRowWriter } from './crank-rows.ts';
import { engineNumbering } from './engine-dictionary.ts';

/** Sorted together before they are written: the more, the fewer pages are touched by a file of units in turn. */
const GATHERED_ROWS = 65_536;

export type CrankImport = {
  /** Takes over a reader's batch, whose arrays are filled anew afterwards; writes in transactions of its own. */
  batch(batch: CrankBatch): void;
  /** Writes the batches that are still gathered. */
  flush(): void;
  /** Writes one engine's cranks. Inside the caller's transaction. */
  table(unit: string, position: string, table: MeasuredTable): void;
  /** Number of an engine. Inside the caller's transaction. */
  engineId(unit: string, position: string): number;
};

/** Rows with the number of their engine. */
type Gathered = { engines: Int32Array; columns: CrankBatch['columns'] };

/** Writes measured cranks of one import, and counts them by engine beside. */
export function crankImport(writer: Connection, importId: number): CrankImport {
  const engineId = engineNumbering(writer);
  const writeRow = crankRowWriter(writer.sqlite, importId);
  const link = writer.sqlite.prepare<[number, number, number]>(
    `insert into import_engines (import_id, engine_id, rows) values (?, ?, ?)
     on conflict (import_id, engine_id) do update set rows = rows + excluded.rows`,
  );

  const writeSome = (columns: CrankBatch['columns'], engines: Int32Array, rows: Uint32Array) => {
    const counts = new Map<number, number>();
    for (const row of rows) {
      const engine = engines[row]!;
      counts.set(engine, (counts.get(engine) ?? 0) + 1);
      writeRow(columns, row, engine);
    }
    for (const [engine, count] of counts) link.run(importId, engine, count);
  };

  let waiting: Gathered[] = [];
  const flush = () => {
    const { columns, engines } = joined(waiting);
    waiting = [];
    const order = byKey(columns.timeUs, engines);
    for (let from = 0; from < order.length; from += BATCH_ROWS)
      inTransaction(writer, () => writeSome(columns, engines, order.subarray(from, from + BATCH_ROWS)));
  };

  return {
    engineId,
    batch(batch) {
      const engines = inTransaction(writer, () => enginesOf(batch, engineId));
      waiting.push({ engines, columns: eachColumn((name) => batch.columns[name].slice(0, batch.count)) });
      if (waiting.reduce((rows, each) => rows + each.engines.length, 0) >= GATHERED_ROWS) flush();
    },
    flush,
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

function eachColumn(make: (name: MeasuredColumn) => Float64Array): CrankBatch['columns'] {
  return Object.fromEntries(MEASURED_COLUMNS.map((name) => [name, make(name)])) as CrankBatch['columns'];
}

function joined(parts: readonly Gathered[]): Gathered {
  const count = parts.reduce((rows, { engines }) => rows + engines.length, 0);
  const all = { engines: new Int32Array(count), columns: eachColumn(() => new Float64Array(count)) };
  let from = 0;
  for (const { engines, columns } of parts) {
    all.engines.set(engines, from);
    for (const name of MEASURED_COLUMNS) all.columns[name].set(columns[name], from);
    from += engines.length;
  }
  return all;
}

/** Rows in the order of the table's key: neighbours land on the same page, which doubles the speed of a mixed file. */
function byKey(timeUs: Float64Array, engines: Int32Array): Uint32Array {
  return Uint32Array.from(engines, (_, row) => row).sort(
    (a, b) => engines[a]! - engines[b]! || timeUs[a]! - timeUs[b]! || a - b,
  );
}
