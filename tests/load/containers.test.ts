import { Float64, Int32, Utf8, vectorFromArray, type Vector } from 'apache-arrow';
import { parse } from 'csv-parse/sync';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPaths } from '../../etl/load.ts';
import { FINISHED_COLUMNS } from '../../etl/model/crank.ts';
import type { Store } from '../../etl/store/store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { arrowBytes, type PlainTable } from '../support/plain-tables.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';
import { load, NOW_US, storeFolder, withStore } from '../support/store-folder.ts';
import { storeDump } from '../support/store-dump.ts';

/** A fleet in another shape of file makes the store that its CSV files make. */
let folder: Awaited<ReturnType<typeof storeFolder>>;
let tables: Map<string, PlainTable>;
let fromCsv: Awaited<ReturnType<typeof contentOf>>;

beforeAll(async () => {
  folder = await storeFolder();
  const fleet = folder.path('fleet');
  await simulateFleet({ units: 4, days: 60, seed: 5, out: fleet, waveformShare: 0.02 });
  tables = new Map();
  for (const name of await readdir(fleet)) {
    const bytes = await readFile(join(fleet, name));
    const [columns = [], ...rows] = parse(name.endsWith('.gz') ? gunzipSync(bytes) : bytes);
    tables.set(name.replace(/\.csv(\.gz)?$/, ''), { columns, rows });
  }
  const report = await load(folder.path('csv.sqlite'), [fleet]);
  expect(report.setAside).toBe(0);
  fromCsv = await withStore(folder.path('csv.sqlite'), contentOf);
}, 120_000);
afterAll(async () => folder.remove());

/** What a store shows, but for the names of files and the lines in them. */
async function contentOf(store: Store) {
  const { imports: _, setAside, cranks, ...rest } = await storeDump(store);
  const columns = FINISHED_COLUMNS.filter((name) => name !== 'importId' && name !== 'line');
  const engines: Record<string, unknown> = {};
  for (const engine of await store.engines()) {
    const table = (await store.finished(engine))!;
    engines[`${engine.unit}/${engine.position}`] = columns.map((name) => [name, ...table.columns[name]]);
  }
  const waveforms = Object.values(cranks as Record<string, { waveforms: unknown }>).map((each) => each.waveforms);
  return { ...rest, engines, waveforms, setAside: (setAside as unknown[]).length };
}

async function loaded(shape: string, write: (name: string, table: PlainTable, path: string) => Promise<void>) {
  const files = folder.path(shape);
  await mkdir(files, { recursive: true });
  for (const [name, table] of tables) await write(name, table, join(files, name));
  const report = await load(folder.path(`${shape}.sqlite`), [files]);
  expect(report.files.map(({ result }) => result)).toEqual(report.files.map(() => 'loaded'));
  const again = await load(folder.path(`${shape}.sqlite`), [files]);
  expect(again.files.map(({ result }) => result)).toEqual(report.files.map(() => 'already'));
  return withStore(folder.path(`${shape}.sqlite`), contentOf);
}

const isNumber = (cells: readonly string[]) => cells.every((cell) => /^-?\d{0,15}(\.\d+)?$/.test(cell));
const cellsOf = ({ rows }: PlainTable, at: number) => rows.map((row) => row[at]!);

/** Columns as a program would type them; names stay texts. */
const TEXTS = ['unit', 'depot', 'class', 'vin', 'part', 'rating', 'work_order', 'system_code', 'record', 'position'];
const isTyped = (table: PlainTable, at: number) => !TEXTS.includes(table.columns[at]!) && isNumber(cellsOf(table, at));
const valueOf = (cell: string, typed: boolean) => (cell === '' ? null : typed ? Number(cell) : cell);

async function parquetOf(table: PlainTable, path: string): Promise<void> {
  const lines = `${folder.path('lines')}.json`;
  await writeFile(
    lines,
    table.rows
      .map((row) => `${JSON.stringify(Object.fromEntries(table.columns.map((name, at) => [name, row[at] || null])))}\n`)
      .join(''),
  );
  const types = table.columns.map((name) => `'${name}': 'VARCHAR'`).join(', ');
  const selected = table.columns.map((name, at) => {
    if (name === 'time') return 'time::TIMESTAMPTZ AS time';
    return isTyped(table, at) ? `"${name}"::DOUBLE AS "${name}"` : `"${name}"`;
  });
  await withDuckDb(
    `COPY (SELECT ${selected.join(', ')} FROM read_json('${lines}', format = 'newline_delimited', columns = {${types}})) TO '${path}' (FORMAT parquet, ROW_GROUP_SIZE 4096)`,
  );
}

function arrowOf(table: PlainTable): Uint8Array {
  const vectors = table.columns.map((name, at): [string, Vector] => {
    const cells = cellsOf(table, at);
    const typed = isTyped(table, at);
    const whole = typed && cells.every((cell) => Number.isInteger(Number(cell)) && Math.abs(Number(cell)) < 2 ** 31);
    const values = cells.map((cell) => valueOf(cell, typed));
    return [name, vectorFromArray(values, typed ? (whole ? new Int32() : new Float64()) : new Utf8())];
  });
  return arrowBytes(Object.fromEntries(vectors), 'file', 5000);
}

describe('the store made of CSV files is made of', () => {
  it('the fleet has cranks by row and by waveform', () => {
    expect([...tables.keys()].some((name) => name.includes('waveform'))).toBe(true);
    expect(Object.keys(fromCsv.engines).length).toBeGreaterThanOrEqual(4);
  });

  it('Parquet', async () => {
    expect(await loaded('parquet', async (_, table, path) => parquetOf(table, path))).toEqual(fromCsv);
  }, 60_000);

  it('Arrow', async () => {
    expect(await loaded('arrow', async (_, table, path) => writeFile(path, arrowOf(table)))).toEqual(fromCsv);
  }, 60_000);

  it('NDJSON', async () => {
    const write = async (_: string, table: PlainTable, path: string) => {
      const typed = table.columns.map((_, at) => isTyped(table, at));
      const lines = table.rows.map(
        (row) =>
          `${JSON.stringify(Object.fromEntries(table.columns.map((name, at) => [name, valueOf(row[at]!, typed[at]!)])))}\n`,
      );
      await writeFile(path, lines.join(''));
    };
    expect(await loaded('ndjson', write)).toEqual(fromCsv);
  }, 60_000);

  it('spreadsheets for registers and records, Parquet for the rest', async () => {
    const write = async (_: string, table: PlainTable, path: string) => {
      if (table.columns.includes('volts') || table.columns.includes('rest_volts')) return parquetOf(table, path);
      const typed = table.columns.map((_, at) => isTyped(table, at));
      const rows = table.rows.map((row) => row.map((cell, at) => valueOf(cell, typed[at]!)));
      await writeFile(path, workbookOf({ Sheet1: sheetXml([table.columns, ...rows]) }));
    };
    expect(await loaded('xlsx', write)).toEqual(fromCsv);
  }, 60_000);
});

it('threads beside this one read them too', async () => {
  const files = folder.path('threads');
  await mkdir(files);
  for (const [name, table] of tables)
    if (table.columns.includes('volts')) await parquetOf(table, join(files, name));
    else await writeFile(join(files, name), arrowOf(table));
  const report = await withStore(folder.path('threads.sqlite'), async (store) =>
    loadPaths(store, [files], { nowUs: NOW_US, jobs: 2, threadsFromBytes: 0 }),
  );
  expect(report.files.map(({ result }) => result)).toEqual(report.files.map(() => 'loaded'));
  expect(await withStore(folder.path('threads.sqlite'), contentOf)).toEqual(fromCsv);
}, 60_000);

it('a file that breaks off leaves nothing behind', async () => {
  const name = [...tables.keys()].find((each) => each.includes('waveform'))!;
  const path = folder.path('cut.arrow');
  const whole = arrowOf(tables.get(name)!);
  await writeFile(path, whole.subarray(0, Math.floor(whole.length * 0.7)));
  const report = await load(folder.path('cut.sqlite'), [path]);
  expect(report.files[0]).toMatchObject({ result: 'unreadable', taken: 0 });
  expect(report.files[0]!.reasons[0]!.reason).toMatch(/^Arrow file requires a whole file, got one that ends early/);
  await withStore(folder.path('cut.sqlite'), async (store) => {
    expect(await store.imports()).toEqual([]);
    expect(await store.engines()).toEqual([]);
  });
});
