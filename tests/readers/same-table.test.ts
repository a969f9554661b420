import { array, assert, asyncProperty, constantFrom, double, integer, oneof, tuple, type Arbitrary } from 'fast-check';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { collectFile, rowsOf } from '../support/collected-file.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { arrowBytes, csvOf, textVectors, type PlainTable } from '../support/plain-tables.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';

/** Any table, sound and unsound cells mixed, gives the same in CSV as in every other shape of file. */
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'same-table-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

const UNIT = constantFrom('T-1', 'T-1', 'T 014', 'Größe 7', 'a,b', 'say "x"', '014', '1e6', ' T-1 ', '');
const TIME = oneof(
  integer({ min: 0, max: 1.7e9 }).map((ms) => new Date(1.6e12 + ms).toISOString()),
  integer({ min: 0, max: 1.7e9 }).map((ms) => `${1.6e12 + ms}.${ms % 1000}`),
  constantFrom(
    '2024-03-01 06:00:00.123456789+01:00',
    '2024-03-01T06:00:00',
    '2024-02-30T06:00:00Z',
    '17000000',
    'now',
    '',
  ),
);
const NUMBER = oneof(
  double({ min: -5, max: 65, noNaN: true }).map((value) => value.toFixed(3)),
  constantFrom('12', '+12.5', '.5', '-0', '1.25e1', ' 12.5 ', '', 'NaN', '1e9', 'low', '12,5', '--1', '.', '0x10'),
);
const OUTCOME = constantFrom('started', 'Failed', ' failed', '', 'maybe');
const DAY = constantFrom('2024-03-01', '2024-02-30', '2024-03-01T06:00:00Z', '2024-03-01T06:00:00+02:00', 'soon');
const MONEY = constantFrom('183.05', '$12', '', '-1', 'free');

function tables(cells: Record<string, Arbitrary<string>>): Arbitrary<PlainTable> {
  const columns = Object.keys(cells);
  return array(tuple(...Object.values(cells)), { minLength: 1, maxLength: 40 }).map((rows) => ({ columns, rows }));
}

const KINDS = {
  waveform: tables({ unit: UNIT, note: UNIT, time: TIME, volts: NUMBER, rpm: NUMBER, record: UNIT }),
  cranks: tables({
    unit: UNIT,
    time: TIME,
    rest_volts: NUMBER,
    dip_volts: NUMBER,
    crank_seconds: NUMBER,
    outcome: OUTCOME,
    position: UNIT,
  }),
  work_orders: tables({
    work_order: constantFrom('W1', '014', '7'),
    unit: UNIT,
    opened: DAY,
    complaint: UNIT,
    parts_cost: MONEY,
    road_call: constantFrom('0', '1', '', 'yes'),
  }),
};

/** The same table in another shape of file, by hands that have no part in the reading. */
const SHAPES: Record<string, { write: (table: PlainTable, path: string) => Promise<void>; runs: number }> = {
  'Arrow file': {
    write: async (table, path) => writeFile(path, arrowBytes(textVectors(table), 'file', 7)),
    runs: 60,
  },
  'Arrow stream': { write: async (table, path) => writeFile(path, arrowBytes(textVectors(table), 'stream')), runs: 30 },
  NDJSON: { write: async (table, path) => writeFile(path, ndjsonOf(table)), runs: 60 },
  Parquet: { write: parquetOf, runs: 12 },
};

/** Empty cells are null or left out in turn; the first row has every key, as a header has. */
function ndjsonOf({ columns, rows }: PlainTable): string {
  const object = (cells: readonly string[], row: number) =>
    Object.fromEntries(
      columns
        .map((column, at) => [column, cells[at] === '' ? null : cells[at]] as const)
        .filter(([, cell], at) => cell !== null || row === 0 || (row + at) % 2 === 0),
    );
  return rows.map((cells, row) => `${JSON.stringify(object(cells, row))}\n`).join('');
}

async function parquetOf(table: PlainTable, path: string): Promise<void> {
  const lines = `${path}.json`;
  await writeFile(lines, ndjsonOf(table));
  const types = table.columns.map((column) => `'${column}': 'VARCHAR'`).join(', ');
  await withDuckDb(
    `COPY (SELECT * FROM read_json('${lines}', format = 'newline_delimited', columns = {${types}})) TO '${path}' (FORMAT parquet)`,
  );
}

async function readBoth(table: PlainTable, write: (table: PlainTable, path: string) => Promise<void>) {
  const [csv, other] = [join(folder, 'table.csv'), join(folder, 'table.other')];
  await writeFile(csv, csvOf(table));
  await write(table, other);
  const [expected, got] = [await collectFile(csv), await collectFile(other)];
  return { expected, got };
}

/** The same tables every time: how many of their rows can be used is counted below. Other draws are for the fuzz run. */
const DRAW = 1;

const linesOf = ({ setAside, samples, cranks, orders }: Awaited<ReturnType<typeof collectFile>>) =>
  [setAside, samples, cranks, orders].map((rows) => rows.map(({ line }) => Number(line)));

describe.each(Object.entries(SHAPES))('%s', (_, { write, runs }) => {
  it.each(Object.entries(KINDS))('%s: the same rows, the same set aside', async (kind, table) => {
    const seen = { taken: 0, setAside: 0 };
    await assert(
      asyncProperty(table, async (each) => {
        const { expected, got } = await readBoth(each, write);
        expect(got.report.kind).toBe(kind);
        seen.taken += got.report.taken;
        seen.setAside += got.report.setAside;
        expect(rowsOf(got)).toEqual(rowsOf(expected));
        expect(got.report.unknownColumns).toEqual(expected.report.unknownColumns);
        // The header is a line of a CSV file and of no other.
        expect(linesOf(got).map((lines) => lines.map((line) => line + 1))).toEqual(linesOf(expected));
      }),
      { numRuns: runs, seed: DRAW },
    );
    expect(Math.min(seen.taken, seen.setAside)).toBeGreaterThan(5);
  });
});

describe('spreadsheet', () => {
  it('work_orders: the same rows, the same set aside, on the rows of the sheet', async () => {
    await assert(
      asyncProperty(KINDS.work_orders, async (each) => {
        const { expected, got } = await readBoth(each, async ({ columns, rows }, path) =>
          writeFile(path, workbookOf({ Sheet1: sheetXml([columns, ...rows]) })),
        );
        expect(rowsOf(got)).toEqual(rowsOf(expected));
        expect(linesOf(got)).toEqual(linesOf(expected));
      }),
      { numRuns: 40 },
    );
  });
});

describe('typed columns', () => {
  const rows = array(
    tuple(
      constantFrom('T-1', 'T-2', 'Größe'),
      integer({ min: 0, max: 2e9 }).map((us) => 1_700_000_000_000_000 + us),
      oneof(double({ min: -6, max: 66, noNaN: true }), constantFrom(12.125, -0, 1e-7)),
      oneof(constantFrom(null), integer({ min: -10, max: 25_000 })),
    ),
    { minLength: 1, maxLength: 50 },
  );
  const iso = (us: number) =>
    `${new Date(us / 1000 - (us % 1000) / 1000).toISOString().slice(0, 19)}.${String(us % 1e6).padStart(6, '0')}Z`;

  it('in Parquet are what their texts in CSV are', async () => {
    await assert(
      asyncProperty(rows, async (list) => {
        const texts = list.map(([unit, us, volts, rpm]) => [
          unit,
          iso(us),
          String(volts),
          rpm === null ? '' : String(rpm),
        ]);
        const { expected, got } = await readBoth(
          { columns: ['unit', 'time', 'volts', 'rpm'], rows: texts },
          async (_, path) => {
            const values = list.map(
              ([unit, us, volts, rpm]) =>
                // A bare literal would be a DECIMAL first, rounded once more on its way to DOUBLE.
                `('${unit}', make_timestamptz(${us}), '${volts}'::DOUBLE, ${rpm ?? 'NULL'}::INTEGER)`,
            );
            await withDuckDb(
              `COPY (SELECT * FROM (VALUES ${values.join(', ')}) AS t(unit, time, volts, rpm)) TO '${path}' (FORMAT parquet)`,
            );
          },
        );
        expect(got.samples).toEqual(expected.samples.map((row) => ({ ...row, line: Number(row['line']) - 1 })));
        expect(got.setAside.map(({ line, field, reason }) => [line + 1, field, reason])).toEqual(
          expected.setAside.map(({ line, field, reason }) => [line, field, reason]),
        );
      }),
      { numRuns: 12 },
    );
  });
});
