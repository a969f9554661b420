/**
 * Measured cranks as rows. Written and read raw, by hand: this is the store's hot path, in both directions.
 * NaN in a column is NULL in a row.
 */
import type { Database, Statement } from 'better-sqlite3';
import { getTableColumns } from 'drizzle-orm';
import type { CrankBatch, MeasuredTable } from '../model/crank.ts';
import type { Connection } from './connection.ts';
import { MEASURE_COLUMNS, crankRows } from './schema/loaded.ts';
import type { MeasuredSource } from './store.ts';

const named = getTableColumns(crankRows);
const names = MEASURE_COLUMNS.map((name) => named[name].name);

/** Writes one row of the columns. */
export type CrankRowWriter = (columns: CrankBatch['columns'], row: number, engineId: number) => void;

export function crankRowWriter(sqlite: Database, importId: number): CrankRowWriter {
  const insert: Statement = sqlite.prepare(
    `insert into crank_rows (import_id, engine_id, time_us, line, ${names.join(', ')})
     values (${'?, '.repeat(names.length + 3)}?)`,
  );
  const values = new Array<number>(names.length + 4).fill(0);
  return (columns, row, engineId) => {
    values[0] = importId;
    values[1] = engineId;
    values[2] = columns.timeUs[row]!;
    values[3] = columns.line[row]!;
    for (let column = 0; column < MEASURE_COLUMNS.length; column++)
      values[column + 4] = columns[MEASURE_COLUMNS[column]!][row]!;
    insert.run(values);
  };
}

type LiveRow = [importId: number, timeUs: number, line: number, ...measures: (number | null)[]];

/** Every measured row of an engine that is visible, import by import, each in time order. */
export function measuredSources({ sqlite }: Connection, engineId: number): MeasuredSource[] {
  const rows = sqlite
    .prepare<[number], LiveRow>(
      `select import_id, time_us, line, ${names.join(', ')}
       from import_engines cross join crank_rows using (import_id, engine_id)
       where engine_id = ? and import_id in (select import_id from imports where state = 'live')
       order by import_id, time_us, line`,
    )
    .raw()
    .all(engineId);
  const sha256 = sqlite.prepare<[number], string>('select sha256 from imports where import_id = ?').pluck();
  const grouped = new Map<number, LiveRow[]>();
  for (const row of rows) {
    const own = grouped.get(row[0]);
    if (own) own.push(row);
    else grouped.set(row[0], [row]);
  }
  return [...grouped]
    .map(([importId, own]) => ({ importId, sha256: sha256.get(importId) ?? '', table: tableOf(own) }))
    .sort((a, b) => (a.sha256 < b.sha256 ? -1 : 1));
}

function tableOf(rows: readonly LiveRow[]): MeasuredTable {
  const column = (at: number) => {
    const values = new Float64Array(rows.length);
    for (let row = 0; row < rows.length; row++) values[row] = rows[row]![at] ?? Number.NaN;
    return values;
  };
  const measures = MEASURE_COLUMNS.map((name, index) => [name, column(index + 3)]);
  const columns = { timeUs: column(1), line: column(2), ...Object.fromEntries(measures) } as MeasuredTable['columns'];
  return { count: rows.length, columns };
}
