import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { collectFile, rowsOf } from '../support/collected-file.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { arrowBytes, csvOf, textVectors, type PlainTable } from '../support/plain-tables.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';

/** A profile reads the same foreign table alike in every shape of file. */
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'mapped-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));
const fileOf = (name: string) => join(folder, name);

const profileOf = (profile: object): ImportProfile =>
  parseProfile(JSON.stringify({ name: 'foreign', ...profile }), 'foreign.json');

const LOGGER = profileOf({
  columns: {
    Fahrzeug: 'unit',
    Uhrzeit: 'time',
    Batt_mV: { field: 'volts', unitOfMeasure: 'mV' },
    'Temp °F': { field: 'temp_c', unitOfMeasure: '°F' },
    Start: { field: 'start_request', values: { on: '1', off: '0' } },
  },
  time: { format: 'dd.MM.yyyy HH:mm:ss.SSS', zone: 'Europe/Berlin' },
  missingMarks: ['n/a'],
});

const FOREIGN: PlainTable = {
  columns: ['Fahrzeug', 'Uhrzeit', 'Batt_mV', 'Temp °F', 'Start', 'Fahrer'],
  rows: [
    ['014', '01.03.2024 07:00:00.125', '12500', '32', 'on', 'x'],
    ['014', '01.07.2024 07:00:00.250', '9250.5', 'n/a', 'off', 'y'],
    ['014', 'gestern', '9250', '50', 'off', 'y'],
    ['014', '01.03.2024 07:00:01.000', '99999', '50', 'off', 'y'],
    ['', '01.03.2024 07:00:01.000', '12000', '', '', ''],
  ],
};

const ndjsonOf = ({ columns, rows }: PlainTable) =>
  rows
    .map((row) => `${JSON.stringify(Object.fromEntries(columns.map((name, at) => [name, row[at] ?? null])))}\n`)
    .join('');

describe('texts under foreign names', () => {
  it('in Arrow, NDJSON and Parquet give what they give in CSV', async () => {
    await writeFile(fileOf('log.csv'), csvOf(FOREIGN));
    await writeFile(fileOf('log.arrow'), arrowBytes(textVectors(FOREIGN), 'file', 2));
    await writeFile(fileOf('log.ndjson'), ndjsonOf(FOREIGN));
    const types = FOREIGN.columns.map((name) => `'${name}': 'VARCHAR'`).join(', ');
    await withDuckDb(
      `COPY (SELECT * FROM read_json('${fileOf('log.ndjson')}', format = 'newline_delimited', columns = {${types}})) TO '${fileOf('log.parquet')}' (FORMAT parquet)`,
    );
    const csv = await collectFile(fileOf('log.csv'), undefined, LOGGER);
    expect([csv.report.taken, csv.report.setAside, csv.report.unknownColumns]).toEqual([2, 3, ['Fahrer']]);
    expect(csv.samples[0]).toMatchObject({
      volts: 12.5,
      tempC: 0,
      startRequest: 1,
      timeUs: Date.UTC(2024, 2, 1, 6) * 1000 + 125_000,
    });
    for (const name of ['log.arrow', 'log.ndjson', 'log.parquet']) {
      const got = await collectFile(fileOf(name), undefined, LOGGER);
      expect(rowsOf(got)).toEqual(rowsOf(csv));
      expect(got.setAside.map(({ line }) => line + 1)).toEqual(csv.setAside.map(({ line }) => line));
      expect(got.report.unknownColumns).toEqual(['fahrer']);
    }
  });
});

describe('stored numbers and instants', () => {
  it('are converted as such; a time without zone is read in the zone of the profile', async () => {
    const profile = profileOf({
      columns: { Vehicle: 'unit', Stamp: 'time', MilliVolts: { field: 'volts', unitOfMeasure: 'mV' } },
      time: { format: 'iso', zone: 'Europe/Berlin' },
      decimalMark: ',',
    });
    await withDuckDb(
      `COPY (SELECT 14 AS Vehicle, TIMESTAMP '2024-03-01 07:00:00.5' + to_days(122 * r::INTEGER) AS Stamp, (12000 + r)::SMALLINT AS MilliVolts FROM range(2) t(r)) TO '${fileOf('local.parquet')}' (FORMAT parquet)`,
    );
    const { samples, report } = await collectFile(fileOf('local.parquet'), undefined, profile);
    expect(report).toMatchObject({ taken: 2, setAside: 0 });
    expect(samples).toEqual([
      { unit: '14', timeUs: Date.UTC(2024, 2, 1, 6) * 1000 + 500_000, volts: 12, line: 1 },
      { unit: '14', timeUs: Date.UTC(2024, 6, 1, 5) * 1000 + 500_000, volts: 12.001, line: 2 },
    ]);
  });

  it.each(['TIMESTAMP', 'TIMESTAMP_MS', 'TIMESTAMP_NS'])(
    '%s: an hour that the clocks skip or show twice is told, whatever the format of texts',
    async (type) => {
      const profile = profileOf({ time: { format: 'dd.MM.yyyy HH:mm', zone: 'Europe/Berlin' }, kind: 'waveform' });
      await withDuckDb(
        `COPY (SELECT 'T' AS unit, t::${type} AS time, 12 AS volts FROM (VALUES ('2024-03-31 01:59:59.5'), ('2024-03-31 02:30:00'), ('2024-10-27 02:30:00'), ('2024-10-27 03:00:00'), (NULL)) v(t)) TO '${fileOf('clock.parquet')}' (FORMAT parquet)`,
      );
      const { samples, setAside } = await collectFile(fileOf('clock.parquet'), undefined, profile);
      expect(samples.map(({ timeUs }) => timeUs)).toEqual([
        Date.UTC(2024, 2, 31, 0, 59, 59, 500) * 1000,
        Date.UTC(2024, 9, 27, 2) * 1000,
      ]);
      expect(setAside.map(({ line, value, reason }) => [line, value, reason])).toEqual([
        [2, '2024-03-31T02:30:00', 'time requires an hour that the clocks of its zone show, not one that they skip'],
        [3, '2024-10-27T02:30:00', 'time requires an offset in the hour that the clocks of its zone show twice'],
        [5, '', 'time requires ISO 8601 with zone, or epoch milliseconds'],
      ]);
    },
  );

  it('epoch seconds; a unit by the profile; what is set aside names the unit of measure it came from', async () => {
    const profile = profileOf({
      unit: 'bench 3',
      columns: { t: 'time', mv: { field: 'volts', unitOfMeasure: 'mV' } },
      time: { format: 'epoch_s' },
    });
    await withDuckDb(
      `COPY (SELECT 1709272800.25::DOUBLE AS t, 12000::BIGINT AS mv UNION ALL SELECT 1709272801, 99000) TO '${fileOf('epoch.parquet')}' (FORMAT parquet)`,
    );
    const { samples, setAside } = await collectFile(fileOf('epoch.parquet'), undefined, profile);
    expect(samples).toEqual([{ unit: 'bench 3', timeUs: 1_709_272_800_250_000, volts: 12, line: 1 }]);
    expect(setAside).toEqual([
      { line: 2, field: 'volts', value: '99', reason: 'volts requires a value from -5 to 65 V (converted from mV)' },
    ]);
  });

  it('seconds from the start of the recording go on from batch to batch', async () => {
    const profile = profileOf({
      unit: 'U1',
      columns: { seconds: 'time', v: 'volts' },
      time: { format: 'seconds_from_start', start: '2024-03-01T06:00:00Z' },
    });
    await withDuckDb(
      `COPY (SELECT r / 1000.0 AS seconds, 12.5 AS v FROM range(5000) t(r)) TO '${fileOf('scope.parquet')}' (FORMAT parquet)`,
    );
    const { samples } = await collectFile(fileOf('scope.parquet'), undefined, profile);
    expect(samples).toHaveLength(5000);
    expect(samples[4999]).toEqual({
      unit: 'U1',
      timeUs: Date.UTC(2024, 2, 1, 6) * 1000 + 4_999_000,
      volts: 12.5,
      line: 5000,
    });
  });
});

describe('a spreadsheet under foreign names', () => {
  it('is found by what the profile makes of its header, days in its zone', async () => {
    const profile = profileOf({
      kind: 'work_orders',
      columns: { Auftrag: 'work_order', Fzg: 'unit', Datum: 'opened', Kosten: 'parts_cost' },
      time: { format: 'iso', zone: 'Europe/Berlin' },
    });
    const rows = [
      ['Werkstatt Nord'],
      [],
      ['Auftrag', 'Fzg', 'Datum', 'Kosten'],
      [7, '014', new Date('2024-03-01T07:30:00Z'), 18.5],
    ];
    await writeFile(fileOf('orders.xlsx'), workbookOf({ Tabelle1: sheetXml(rows) }));
    const { orders, report } = await collectFile(fileOf('orders.xlsx'), undefined, profile);
    expect(report).toMatchObject({ kind: 'work_orders', taken: 1, setAside: 0 });
    expect(orders[0]).toMatchObject({
      line: 4,
      row: { workOrder: '7', unit: '014', openedUs: Date.UTC(2024, 2, 1, 6, 30) * 1000, partsCostMinor: 1850 },
    });
  });
});

describe('a profile that does not fit', () => {
  it('leaves the file to its own columns, with a note', async () => {
    await withDuckDb(
      `COPY (SELECT 'T' AS unit, TIMESTAMPTZ '2024-03-01 06:00:00Z' AS time, 12.5 AS volts) TO '${fileOf('own.parquet')}' (FORMAT parquet)`,
    );
    const { report } = await collectFile(fileOf('own.parquet'), undefined, LOGGER);
    expect(report).toMatchObject({ taken: 1, notes: ['the profile does not fit this file: read by its own columns'] });
  });
});
