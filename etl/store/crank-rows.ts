/**
 * Measured cranks as rows. Written and read raw, by hand: this is the store's hot path, in both directions.
 * NaN in a column is NULL in a row.
 */
import type { Database } from 'better-sqlite3';
import { getTableColumns } from 'drizzle-orm';
import { emptyTable, MEASURED_COLUMNS, type CrankBatch, type MeasuredTable } from '../model/crank.ts';
import type { Connection } from './connection.ts';
import { spelledEngines, type SpelledEngine } from './engine-dictionary.ts';
import { byText } from './later-known.ts';
import { isLiveOne } from './live-one.ts';
import { prepared } from './prepared.ts';
import { MEASURE_COLUMNS, crankRows, type MeasureColumn } from './schema/loaded.ts';
import type { SpelledSource } from './store.ts';

const named = getTableColumns(crankRows);
const names = MEASURE_COLUMNS.map((name) => named[name].name);

/** Writes one row of the columns. */
export type CrankRowWriter = (
  columns: CrankBatch['columns'],
  row: number,
  of: { importId: number; engineId: number },
) => void;

export function crankRowWriter(sqlite: Database): CrankRowWriter {
  const insert = prepared(
    sqlite,
    `insert into crank_rows (import_id, engine_id, time_us, line, ${names.join(', ')})
     values (${'?, '.repeat(names.length + 3)}?)`,
  );
  const values = new Array<number>(names.length + 4).fill(0);
  return (columns, row, { importId, engineId }) => {
    values[0] = importId;
    values[1] = engineId;
    values[2] = columns.timeUs[row]!;
    values[3] = columns.line[row]!;
    for (let column = 0; column < MEASURE_COLUMNS.length; column++)
      values[column + 4] = columns[MEASURE_COLUMNS[column]!][row]!;
    insert.run(values);
  };
}

/** Rows in one statement: a call costs as much as half a row. */
const ROWS_AT_ONCE = 48;

export type EngineRows = { engines: Int32Array; columns: CrankBatch['columns'] };

/** Writes some rows of the columns; only the measures that are named are there, the others are NULL in every row. */
export function writeCrankRows(
  sqlite: Database,
  { importId, measures }: { importId: number; measures: readonly MeasureColumn[] },
  { engines, columns, rows }: EngineRows & { rows: Uint32Array },
): void {
  const width = measures.length + 4;
  const many = insertOf(sqlite, measures, ROWS_AT_ONCE);
  const one = insertOf(sqlite, measures, 1);
  const values = new Array<number>(ROWS_AT_ONCE * width).fill(0);
  const put = (row: number, at: number) => {
    values[at] = importId;
    values[at + 1] = engines[row]!;
    values[at + 2] = columns.timeUs[row]!;
    values[at + 3] = columns.line[row]!;
    for (let k = 0; k < measures.length; k++) values[at + 4 + k] = columns[measures[k]!][row]!;
  };
  const whole = rows.length - (rows.length % ROWS_AT_ONCE);
  for (let from = 0; from < whole; from += ROWS_AT_ONCE) {
    for (let k = 0; k < ROWS_AT_ONCE; k++) put(rows[from + k]!, k * width);
    many.run(values);
  }
  values.length = width;
  for (const row of rows.subarray(whole)) {
    put(row, 0);
    one.run(values);
  }
}

function insertOf(sqlite: Database, measures: readonly MeasureColumn[], rows: number) {
  const row = `(${'?, '.repeat(measures.length + 3)}?)`;
  const columns = measures.map((name) => named[name].name);
  return prepared(
    sqlite,
    `insert into crank_rows (${['import_id', 'engine_id', 'time_us', 'line', ...columns].join(', ')})
     values ${Array.from({ length: rows }, () => row).join(', ')}`,
  );
}

type LiveRow = [importId: number, timeUs: number, line: number, ...measures: (number | null)[]];

const OF_ENGINE = `from import_engines as link cross join crank_rows using (import_id, engine_id)
  where engine_id = ? and ${isLiveOne('link')}`;

/** Every measured row of an engine that is visible, import by import, each in time order; spellings of its unit apart. */
export function measuredSources(connection: Connection, engineId: number): SpelledSource[] {
  return spelledEngines(connection, engineId)
    .flatMap((engine) => sourcesOf(connection, engine))
    .sort((a, b) => byText(a.sha256, b.sha256) || byText(a.spelling, b.spelling));
}

function sourcesOf({ sqlite }: Connection, { engineId, spelling }: SpelledEngine): SpelledSource[] {
  const rowCount = prepared(sqlite, 'select sum(rows) from import_engines where engine_id = ?').pluck();
  const isFew = Number(rowCount.get(engineId)) <= FEW_ROWS;
  const measures = isFew ? MEASURE_COLUMNS : valuedMeasures(sqlite, engineId);
  const columns = ['import_id', 'time_us', 'line', ...measures.map((name) => named[name].name)];
  const rows = prepared(sqlite, `select ${columns.join(', ')} ${OF_ENGINE} order by import_id, time_us, line`)
    .raw()
    .all(engineId) as LiveRow[];
  const sha256 = prepared(sqlite, 'select sha256 from imports where import_id = ?').pluck();
  const grouped = new Map<number, LiveRow[]>();
  for (const row of rows) {
    const own = grouped.get(row[0]);
    if (own) own.push(row);
    else grouped.set(row[0], [row]);
  }
  return [...grouped].map(([importId, own]) => ({
    importId,
    sha256: (sha256.get(importId) as string | null) ?? '',
    spelling,
    table: tableOf(own, measures),
  }));
}

/** Of so few rows all measures are fetched at once: to count their values costs more. */
const FEW_ROWS = 50;

/** Of a gateway's rows most measures are NULL: counting values costs a quarter of fetching them. */
function valuedMeasures(sqlite: Database, engineId: number): MeasureColumn[] {
  const counts = prepared(sqlite, `select ${names.map((name) => `count(${name})`).join(', ')} ${OF_ENGINE}`)
    .raw()
    .get(engineId) as number[];
  return MEASURE_COLUMNS.filter((_, index) => counts[index]! > 0);
}

function tableOf(rows: readonly LiveRow[], measures: readonly MeasureColumn[]): MeasuredTable {
  const table = emptyTable(MEASURED_COLUMNS, rows.length);
  for (const [index, name] of (['timeUs', 'line', ...measures] as const).entries()) {
    const column = table.columns[name];
    for (let row = 0; row < rows.length; row++) column[row] = rows[row]![index + 1] ?? Number.NaN;
  }
  return table;
}
