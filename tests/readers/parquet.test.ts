import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { collectFile, rowsOf } from '../support/collected-file.ts';
import { withDuckDb } from '../support/duckdb-files.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'parquet-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

const fileOf = (name = 'table.parquet') => join(folder, name);

async function write(select: string, options = '', path = fileOf()): Promise<string> {
  await withDuckDb(`COPY (${select}) TO '${path.replaceAll("'", "''")}' (FORMAT parquet${options})`);
  return path;
}

async function read(select: string, nowUs?: number) {
  return collectFile(await write(select), nowUs);
}

const US = Date.UTC(2024, 2, 1, 6) * 1000;
const values = (...rows: string[]) => `SELECT * FROM (VALUES ${rows.map((row) => `(${row})`).join(', ')})`;
const wave = (...rows: string[]) => `${values(...rows)} AS t(unit, time, volts)`;
const ZONED = "TIMESTAMPTZ '2024-03-01 06:00:00.000125Z'";

describe('a Parquet log', () => {
  /** 40,000 samples of five units and many records, more than one batch of the reader. */
  const LOG = `SELECT 'T-' || (r // 100 % 5) AS unit, 'record number ' || (r // 50) AS record,
    TIMESTAMPTZ '2024-03-01 06:00:00Z' + to_milliseconds(r) AS time, round(12 + sin(r / 9.0), 3) AS volts,
    CASE WHEN r % 7 > 0 THEN (r % 400)::DECIMAL(9, 2) + 0.25 END AS amps, 'x' AS gps FROM range(40000) t(r)`;

  it('gives the samples of the same table in CSV, whatever its row groups and order', async () => {
    await withDuckDb(
      `CREATE TABLE log AS ${LOG}`,
      `COPY (SELECT * REPLACE (strftime(time AT TIME ZONE 'UTC', '%Y-%m-%dT%H:%M:%S.%gZ') AS time) FROM log) TO '${fileOf('log.csv')}'`,
      `COPY log TO '${fileOf('one.parquet')}' (FORMAT parquet, ROW_GROUP_SIZE 1000000)`,
      `COPY log TO '${fileOf('many.parquet')}' (FORMAT parquet, ROW_GROUP_SIZE 2048, COMPRESSION zstd)`,
      `COPY (SELECT amps, volts, gps, time, record, unit FROM log) TO '${fileOf('turned.parquet')}' (FORMAT parquet)`,
    );
    const csv = await collectFile(fileOf('log.csv'));
    expect(csv.report).toMatchObject({ taken: 40_000, setAside: 0, unknownColumns: ['gps'] });
    for (const name of ['one.parquet', 'many.parquet', 'turned.parquet']) {
      const parquet = await collectFile(fileOf(name));
      expect(rowsOf(parquet)).toEqual(rowsOf(csv));
      expect(parquet.report).toEqual(csv.report);
      expect(parquet.samples.map(({ line }) => line)).toEqual(csv.samples.map(({ line }) => (line as number) - 1));
      expect(parquet.reader).toBe('waveform-parquet');
    }
  });

  it('hash is that of the file on disk', async () => {
    const { createHash } = await import('node:crypto');
    const path = await write(wave(`'T', ${ZONED}, 12`));
    const { hash } = await collectFile(path);
    expect(hash).toBe(
      createHash('sha256')
        .update(await readFile(path))
        .digest('hex'),
    );
  });

  it.each(["we'ird [1] name*?.parquet", 'no ending', 'year=2024', 's3:x.parquet', 'Größe {a,b}.parquet'])(
    'a file may be called %s',
    async (name) => {
      const path = fileOf(name);
      await writeFile(path, await readFile(await write(wave(`'T', ${ZONED}, 12`))));
      const meant = name.replace('[1]', '1').replaceAll(/[*?]/g, 'x');
      if (meant !== name) await writeFile(fileOf(meant), 'another file that a pattern could mean');
      const { report } = await collectFile(path);
      expect(report).toMatchObject({ taken: 1, unknownColumns: [] });
    },
  );
});

describe('columns of a Parquet table', () => {
  it('names without blanks and capitals; lists, structures and bytes are unknown columns', async () => {
    const { report, samples } = await read(
      `SELECT 'T' AS " Unit ", ${ZONED} AS "TIME", 12.5 AS "Vo""lts", 12.25 AS volts, [1, 2] AS spectrum, {'a': 1} AS gps, 'x'::BLOB AS picture, NULL::INTEGER[] AS amps`,
    );
    expect(report.unknownColumns.toSorted()).toEqual(['amps', 'gps', 'picture', 'spectrum', 'vo"lts']);
    expect(samples).toEqual([{ unit: 'T', timeUs: US + 125, volts: 12.25, line: 1 }]);
  });

  it.each([
    'TINYINT',
    'INTEGER',
    'BIGINT',
    'UBIGINT',
    'HUGEINT',
    'FLOAT',
    'DOUBLE',
    'DECIMAL(9, 3)',
    'DECIMAL(30, 2)',
    'VARCHAR',
  ])('numbers as %s', async (type) => {
    const { samples, report } = await read(
      `SELECT 'T' AS unit, ${ZONED} AS time, 12::${type} AS volts, NULL::${type} AS amps, 55::${type} AS rpm`,
    );
    expect(report.setAside).toBe(0);
    expect(samples[0]).toMatchObject({ volts: 12, amps: Number.NaN, rpm: 55 });
  });

  it('32-bit numbers are the decimals they were made of', async () => {
    const { samples } = await read(
      `SELECT 'T' AS unit, ${ZONED} AS time, v::FLOAT AS volts FROM (VALUES (12.345), (-0.1), (24)) t(v)`,
    );
    expect(samples.map(({ volts }) => volts)).toEqual([12.345, -0.1, 24]);
  });

  it('flags as booleans; names as whole numbers or words of a list', async () => {
    const { samples } = await read(
      `SELECT 9007199254740993 AS unit, 'left'::ENUM('left', 'right') AS position, ${ZONED} AS time, 12 AS volts, true AS start_request`,
    );
    expect(samples[0]).toMatchObject({ unit: '9007199254740993', position: 'left', startRequest: 1 });
  });
});

describe('times of a Parquet table', () => {
  const timeOf = async (time: string) => {
    const { samples, setAside } = await read(wave(`'T', ${time}, 12`), US + 1e6);
    return samples[0]?.timeUs ?? setAside[0];
  };
  const refused = (value: string, reason: string) => ({ line: 1, field: 'time', value, reason });

  it('with a zone, as text, as epoch milliseconds', async () => {
    expect(await timeOf(ZONED)).toBe(US + 125);
    expect(await timeOf("TIMESTAMPTZ '2024-03-01 07:00:00+01'")).toBe(US);
    expect(await timeOf("'2024-03-01T06:00:00.000000999Z'")).toBe(US);
    expect(await timeOf(`${US / 1000}::BIGINT`)).toBe(US);
    expect(await timeOf(`${US / 1000}.125::DECIMAL(18, 3)`)).toBe(US + 125);
    expect(await timeOf(`${US / 1000}.5::DOUBLE`)).toBe(US + 500);
  });

  it.each([
    ["TIMESTAMP '2024-03-01 06:00:00.5'", '2024-03-01T06:00:00.5'],
    ["TIMESTAMP_S '2024-03-01 06:00:00'", '2024-03-01T06:00:00'],
    ["TIMESTAMP_MS '2024-03-01 06:00:00.25'", '2024-03-01T06:00:00.25'],
    ["TIMESTAMP_NS '2024-03-01 06:00:00.000001999'", '2024-03-01T06:00:00.000001'],
  ])('without a zone: %s is refused as such text is', async (time, value) => {
    expect(await timeOf(time)).toEqual(
      refused(value, 'time requires a zone (Z or an offset such as +01:00): give time.zone in a profile'),
    );
  });

  it('a clock that was never set, one that is ahead, no time, a day alone, seconds instead of milliseconds', async () => {
    const remedy = 'time requires ISO 8601 with zone, or epoch milliseconds';
    const clock = 'time requires a date from 1990 on: the clock was not set';
    expect(await timeOf("TIMESTAMPTZ '1970-01-01 00:00:05Z'")).toEqual(refused('1970-01-01T00:00:05Z', clock));
    expect(await timeOf(`${US / 1e6}::BIGINT`)).toEqual(refused(String(US / 1e6), clock));
    expect(await timeOf("TIMESTAMPTZ '2024-03-03 06:00:00Z'")).toEqual(
      refused('2024-03-03T06:00:00Z', 'time requires a date not after today: the clock is ahead'),
    );
    expect(await timeOf('NULL::TIMESTAMPTZ')).toEqual(refused('', remedy));
    expect(await timeOf("'infinity'::TIMESTAMPTZ")).toEqual(refused('', remedy));
    expect(await timeOf("DATE '2024-03-01'")).toEqual(refused('2024-03-01', remedy));
    expect(await timeOf(`${US * 1000}::BIGINT`)).toEqual(refused(String(US * 1000), remedy));
  });
});

describe('rows that cannot be used', () => {
  it('are set aside with row, field, value and reason; the others keep their order', async () => {
    const { report, samples, setAside } = await read(
      wave(
        `'T', ${ZONED}, 1`,
        `NULL, ${ZONED}, 2`,
        `'T', ${ZONED}, NULL`,
        `'T', ${ZONED}, 'NaN'::DOUBLE`,
        `'T', ${ZONED}, 1e9`,
        `'T, "x"', ${ZONED}, 6`,
      ),
    );
    expect(report).toMatchObject({ taken: 2, setAside: 4 });
    expect(samples.map(({ unit, volts, line }) => [unit, volts, line])).toEqual([
      ['T', 1, 1],
      ['T, "x"', 6, 6],
    ]);
    expect(setAside).toEqual([
      { line: 2, field: 'unit', value: '', reason: 'unit requires a name' },
      { line: 3, field: 'volts', value: '', reason: 'volts requires a number' },
      { line: 4, field: 'volts', value: '', reason: 'volts requires a number' },
      { line: 5, field: 'volts', value: '1000000000', reason: 'volts requires a value from -5 to 65 V' },
    ]);
  });
});

describe('event rows and records in Parquet', () => {
  it('cranks', async () => {
    const { report, cranks } = await read(
      `SELECT 'T' AS unit, ${ZONED} AS time, 12.5 AS rest_volts, 8 AS dip_volts, 0.9 AS crank_seconds, o AS outcome FROM (VALUES ('Started'), ('failed'), (NULL), ('maybe')) t(o)`,
    );
    expect(report).toMatchObject({ kind: 'cranks', taken: 3, setAside: 1 });
    expect(cranks.map(({ outcome, line }) => [outcome, line])).toEqual([
      [0, 1],
      [1, 2],
      [Number.NaN, 3],
    ]);
  });

  it('whole numbers keep their written form in text fields; dates, decimals, missing values', async () => {
    const { orders, report } = await read(
      `SELECT 14::DOUBLE AS work_order, '014' AS unit, DATE '2024-03-01' AS opened, NULL::TIMESTAMPTZ AS closed, 1e6::FLOAT AS system_code, 183.05::DECIMAL(9, 2) AS parts_cost, true AS road_call, 'NaN'::DOUBLE AS labor_hours`,
    );
    expect(report).toMatchObject({ kind: 'work_orders', taken: 1, setAside: 0 });
    expect(orders[0]!.row).toMatchObject({
      workOrder: '14',
      unit: '014',
      openedUs: Date.UTC(2024, 2, 1) * 1000,
      closedUs: null,
      systemCode: '1000000',
      partsCostMinor: 18_305,
      roadCall: true,
      laborHours: null,
    });
  });
});

describe('a file that cannot be read is refused as a whole, with a reason', () => {
  it('cut short, rubbish, zipped again', async () => {
    const path = await write(wave(...Array.from({ length: 500 }, (_, row) => `'T-${row * 7919}', ${ZONED}, 12`)));
    const whole = await readFile(path);
    const refusal = async (bytes: Uint8Array) => {
      await writeFile(fileOf('bad'), bytes);
      return collectFile(fileOf('bad')).then(
        ({ report }) => `read ${report.taken}`,
        (error: unknown) => (error as Error).message,
      );
    };
    const expected = /^Parquet file requires a whole file, not zipped again, got .+ \(.*bad\)$/;
    for (const share of [0.1, 0.5, 0.95])
      expect(await refusal(whole.subarray(0, whole.length * share))).toMatch(expected);
    expect(await refusal(Buffer.from('PAR1'))).toMatch(expected);
    expect(await refusal(Buffer.from(`PAR1${'rubbish '.repeat(99)}PAR1`))).toMatch(expected);
    expect(await refusal(gzipSync(whole))).toMatch(expected);
    const damaged = Buffer.from(whole);
    damaged.fill(0xff, 100, 400);
    expect(await refusal(damaged)).toMatch(/requires|read 500/);
  });

  it('a small file that holds more than memory', async () => {
    const orders = `SELECT 'W' || r AS work_order, 'T' AS unit, DATE '2024-03-01' AS opened, repeat('no start ', 30000) || r AS complaint FROM range(2100) t(r)`;
    const path = await write(orders, ', COMPRESSION zstd');
    expect((await stat(path)).size).toBeLessThan(2 ** 20);
    await expect(collectFile(path)).rejects.toThrow(
      /^Parquet file requires columns of at most 536870912 bytes a row group, got \d+: write it with smaller ones/,
    );
  });

  it('a text longer than any is set aside, and a dictionary of them is not held in memory', async () => {
    const orders = `SELECT 'W' || r AS work_order, 'T' AS unit, DATE '2024-03-01' AS opened, repeat('x', CASE WHEN r = 1 THEN 65536 ELSE 300000 END) AS complaint FROM range(4000) t(r)`;
    const { report, setAside } = await collectFile(await write(orders, ', COMPRESSION zstd'));
    expect([report.taken, report.setAside]).toEqual([1, 3999]);
    expect(setAside[0]).toMatchObject({
      line: 1,
      field: 'complaint',
      reason: 'complaint requires at most 65536 characters',
    });
    expect(setAside[0]!.value.length).toBeLessThanOrEqual(201);
  });

  it('columns of no kind are named', async () => {
    await expect(read('SELECT 1 AS town')).rejects.toThrow('file requires the columns of a known kind, got town');
  });
});
