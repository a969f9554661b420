/** A foreign table is guessed at alike in every shape of file: what it is stored in is no matter of what it says. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBytes } from '../../etl/readers/bytes/byte-stream.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import { collectFile } from '../support/collected-file.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { arrowBytes, csvOf, textVectors, type PlainTable } from '../support/plain-tables.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'guess-container-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));
const fileOf = (name: string) => join(folder, name);

async function guessOf(name: string) {
  const path = fileOf(name);
  const sniffed = await sniffFile({ path, bytes: openBytes(path) });
  if ('reader' in sniffed) throw new Error(`${name} requires columns of no kind, got ${sniffed.reader.name}`);
  return sniffed;
}

const linesOf = (rows: readonly object[]) => rows.map((row) => `${JSON.stringify(row)}\n`).join('');

/** Small letters: containers compare names so. */
const REGISTER: PlainTable = {
  columns: ['vehicle no', 'site', 'type', 'nominal voltage', 'batteries', 'cca', 'zylinder', 'paint'],
  rows: [
    ['014', 'Ostwerk', 'van', '12', '1', '700', '4', 'blue'],
    ['015', 'Ostwerk', 'van', '12', '1', '640', '4', 'red'],
  ],
};

describe('a register under foreign names', () => {
  it('in Arrow, NDJSON, Parquet and a spreadsheet gives the guess that it gives in CSV', async () => {
    const { columns, rows } = REGISTER;
    const objects = rows.map((row) => Object.fromEntries(columns.map((name, at) => [name, row[at]])));
    await writeFile(fileOf('register.csv'), csvOf(REGISTER));
    await writeFile(fileOf('register.arrow'), arrowBytes(textVectors(REGISTER), 'file', 2));
    await writeFile(fileOf('register.ndjson'), linesOf(objects));
    await writeFile(fileOf('register.xlsx'), workbookOf({ Fleet: sheetXml([columns, ...rows]) }));
    await withDuckDb(
      `COPY (SELECT * FROM read_json('${fileOf('register.ndjson')}')) TO '${fileOf('register.parquet')}' (FORMAT parquet)`,
    );
    const csv = (await guessOf('register.csv')).guess!;
    expect(csv.profile.columns).toMatchObject({ 'vehicle no': { field: 'unit' }, zylinder: { field: 'cylinders' } });
    for (const shape of ['arrow', 'ndjson', 'parquet', 'xlsx']) {
      const { guess, unrecognised } = await guessOf(`register.${shape}`);
      expect(guess).toEqual({ ...csv, profile: { ...csv.profile, name: `guessed for register.${shape}` } });
      expect(unrecognised).toContain('it seems to have vehicle no as unit, site as depot');
    }
  });
});

describe('a log with types of its own', () => {
  const FIRST = Date.UTC(2026, 2, 1, 6);
  const samples = Array.from({ length: 500 }, (_, row) => ({
    'Vehicle ID': 'TR-07',
    When: new Date(FIRST + row * 20).toISOString().slice(0, -1),
    'Battery Voltage (mV)': 12_600 - (row % 7),
  }));
  const parquetOf = async (name: string, type: string) => {
    await writeFile(fileOf(`${name}.ndjson`), linesOf(samples));
    await withDuckDb(
      `SET TimeZone = 'UTC'; COPY (SELECT * REPLACE (CAST("When" AS ${type}) AS "When") FROM read_json('${fileOf(`${name}.ndjson`)}', columns = {'Vehicle ID': 'VARCHAR', 'When': 'VARCHAR', 'Battery Voltage (mV)': 'INTEGER'})) TO '${fileOf(`${name}.parquet`)}' (FORMAT parquet)`,
    );
  };

  it('instants need no answer; its guess as a profile reads what it holds', async () => {
    await parquetOf('instants', 'TIMESTAMPTZ');
    const { guess } = await guessOf('instants.parquet');
    expect(guess).toMatchObject({ certain: true, questions: [] });
    const read = await collectFile(fileOf('instants.parquet'), undefined, guess!.profile);
    expect([read.report.taken, read.report.setAside]).toEqual([500, 0]);
    expect(read.samples[1]).toMatchObject({ unit: 'TR-07', timeUs: (FIRST + 20) * 1000, volts: 12.599 });
  });

  it('clocks without a zone are asked for theirs', async () => {
    await parquetOf('clocks', 'TIMESTAMP');
    const { guess } = await guessOf('clocks.parquet');
    expect(guess!.questions).toEqual([expect.stringMatching(/^time\.zone: in which time zone/)]);
    const zoned = { ...guess!.profile, time: { format: 'iso', zone: 'Europe/Berlin' } };
    const read = await collectFile(fileOf('clocks.parquet'), undefined, zoned);
    expect(read.samples[0]).toMatchObject({ timeUs: (FIRST - 3_600_000) * 1000, volts: 12.6 });
  });
});

describe('objects of a log', () => {
  it('give a guess from the whole lines of the beginning', async () => {
    const rows = Array.from({ length: 3000 }, (_, row) => ({
      Asset: 'TR-07',
      Timestamp: new Date(Date.UTC(2026, 2, 1, 6) + row * 10).toISOString(),
      'Batt V': 12.6,
    }));
    await writeFile(fileOf('log.ndjson'), linesOf(rows));
    const { guess } = await guessOf('log.ndjson');
    expect(guess!.questions).toEqual([]);
    expect((await collectFile(fileOf('log.ndjson'), undefined, guess!.profile)).report.taken).toBe(3000);
  });
});
