import {
  Bool,
  DateDay,
  DateMillisecond,
  Decimal,
  Dictionary,
  Float32,
  Float64,
  Int32,
  Int64,
  List,
  Field,
  type Timestamp,
  TimestampMicrosecond,
  TimestampMillisecond,
  TimestampNanosecond,
  TimestampSecond,
  Utf8,
  makeData,
  makeVector,
  vectorFromArray,
  type Vector,
} from 'apache-arrow';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { collectFile } from '../support/collected-file.ts';
import { arrowBytes } from '../support/plain-tables.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'arrow-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function read(bytes: Uint8Array, nowUs?: number) {
  const path = join(folder, 'table');
  await writeFile(path, bytes);
  return collectFile(path, nowUs);
}

const texts = (...values: (string | null)[]) => vectorFromArray(values, new Utf8());
const numbers = (...values: (number | null)[]) => vectorFromArray(values, new Float64());
const MS = Date.UTC(2024, 2, 1, 6);
const wave = (more: Record<string, Vector> = {}) => ({
  unit: texts('T-1', 'T-1', 'T-2'),
  time: numbers(MS, MS + 0.5, MS + 1.125),
  volts: numbers(12.5, 9.25, 24),
  ...more,
});

describe('an Arrow table', () => {
  it.each(['file', 'stream'] as const)('as a %s: the rows in their order, over batches of any size', async (shape) => {
    for (const batchRows of [1, 2, Infinity]) {
      const all = await read(arrowBytes(wave({ amps: numbers(null, 400, Number.NaN) }), shape, batchRows));
      expect(all.reader).toBe('waveform-arrow');
      expect(all.report).toEqual({ kind: 'waveform', taken: 3, setAside: 0, unknownColumns: [], notes: [] });
      expect(all.samples).toEqual([
        { unit: 'T-1', timeUs: MS * 1000, volts: 12.5, amps: Number.NaN, line: 1 },
        { unit: 'T-1', timeUs: MS * 1000 + 500, volts: 9.25, amps: 400, line: 2 },
        { unit: 'T-2', timeUs: MS * 1000 + 1125, volts: 24, amps: Number.NaN, line: 3 },
      ]);
      expect(all.hash).toMatch(/^[0-9a-f]{64}$/);
    }
  });

  it('zipped: the stream of bytes is the same', async () => {
    expect((await read(gzipSync(arrowBytes(wave(), 'stream')))).samples).toHaveLength(3);
  });

  it('names of columns are taken without blanks and capitals; lists are unknown columns', async () => {
    const list = vectorFromArray([[1], [2], []], new List(new Field('item', new Int32(), true)));
    const { unit, time, volts } = wave();
    const all = await read(
      arrowBytes({ ' Unit': unit, TIME: time, volts, spectrum: list, gps: texts('a', 'b', 'c') }, 'file'),
    );
    expect(all.report).toMatchObject({ taken: 3, unknownColumns: ['gps', 'spectrum'] });
  });

  it('32-bit numbers are the decimals they were made of', async () => {
    const all = await read(arrowBytes(wave({ volts: vectorFromArray([12.345, 9.1, 24], new Float32()) }), 'file'));
    expect(all.samples.map(({ volts }) => volts)).toEqual([12.345, 9.1, 24]);
  });
});

describe('times of an Arrow table', () => {
  const at = (vector: Vector) => read(arrowBytes(wave({ time: vector }), 'stream'));
  const stamps = (type: Timestamp, values: bigint[]) =>
    makeVector(makeData({ type: type as TimestampMicrosecond, length: 3, data: BigInt64Array.from(values) }));
  const seconds = BigInt(MS / 1000);

  it.each([
    ['seconds', new TimestampSecond('UTC'), 1n, 0],
    ['milliseconds', new TimestampMillisecond('UTC'), 1000n, 1000],
    ['microseconds', new TimestampMicrosecond('+02:00'), 1_000_000n, 1],
    ['nanoseconds, cut to microseconds', new TimestampNanosecond('Europe/Berlin'), 1_000_000_000n, 0],
  ])('%s with a zone', async (_, type, perSecond, oneUnitUs) => {
    const first = seconds * perSecond;
    const oneMore = oneUnitUs === 0 ? perSecond : 1n;
    const all = await at(stamps(type, [first, first + oneMore, first + 2n * perSecond]));
    const us = MS * 1000;
    expect(all.samples.map(({ timeUs }) => timeUs)).toEqual([us, us + (oneUnitUs || 1e6), us + 2e6]);
  });

  it('nanoseconds lose what is below a microsecond, as in text', async () => {
    const ns = seconds * 1_000_000_000n;
    const all = await at(stamps(new TimestampNanosecond('UTC'), [ns + 1999n, ns + 2000n, ns + 123_456_789n]));
    expect(all.samples.map(({ timeUs }) => (timeUs as number) - MS * 1000)).toEqual([1, 2, 123_456]);
  });

  it('without a zone they are refused as such text is', async () => {
    const all = await at(stamps(new TimestampMillisecond(), [BigInt(MS), BigInt(MS) + 500n, 0n]));
    expect(all.report).toMatchObject({ taken: 0, setAside: 3 });
    expect(all.setAside[1]).toEqual({
      line: 2,
      field: 'time',
      value: '2024-03-01T06:00:00.5',
      reason: 'time requires a zone (Z or an offset such as +01:00): give time.zone in a profile',
    });
  });

  it('whole epoch milliseconds as 64-bit integers; a clock that was never set; one that is ahead', async () => {
    const all = await read(
      arrowBytes(wave({ time: vectorFromArray([BigInt(MS), 5n, BigInt(MS) * 2n], new Int64()) }), 'file'),
      MS * 1000,
    );
    expect(all.samples.map(({ timeUs }) => timeUs)).toEqual([MS * 1000]);
    expect(all.setAside.map(({ line, value }) => [line, value])).toEqual([
      [2, '5'],
      [3, String(MS * 2)],
    ]);
    expect(all.setAside[1]!.reason).toBe('time requires a date not after today: the clock is ahead');
  });
});

describe('a value that cannot be read sets its row aside', () => {
  it('missing numbers and names, numbers out of range', async () => {
    const all = await read(
      arrowBytes(
        {
          unit: texts('T-1', null, 'T-2', 'T-3'),
          time: numbers(MS, MS, MS, null),
          volts: numbers(null, 12, 1e9, 12),
        },
        'file',
        2,
      ),
    );
    expect(all.report).toMatchObject({ taken: 0, setAside: 4 });
    expect(all.setAside).toEqual([
      { line: 1, field: 'volts', value: '', reason: 'volts requires a number' },
      { line: 2, field: 'unit', value: '', reason: 'unit requires a name' },
      { line: 3, field: 'volts', value: '1000000000', reason: 'volts requires a value from -5 to 65 V' },
      { line: 4, field: 'time', value: '', reason: expect.stringContaining('time requires ISO 8601') },
    ]);
  });
});

describe('records in an Arrow table', () => {
  it('whole numbers keep their written form in text; dates, decimals and flags are read', async () => {
    const all = await read(
      arrowBytes(
        {
          work_order: vectorFromArray([14n, 9_007_199_254_740_993n], new Int64()),
          unit: vectorFromArray(['014', '014'], new Dictionary(new Utf8(), new Int32())),
          opened: vectorFromArray([new Date('2024-03-01'), new Date('2024-03-02')], new DateDay()),
          closed: vectorFromArray([new Date('2024-03-05'), null], new DateMillisecond()),
          odometer_km: vectorFromArray([1e6, null], new Float64()),
          parts_cost: makeVector(
            makeData({
              type: new Decimal(2, 10, 128),
              length: 2,
              data: Uint32Array.of(18_305, 0, 0, 0, 0xffffff9c, -1, -1, -1),
            }),
          ),
          road_call: vectorFromArray([true, null], new Bool()),
        },
        'file',
      ),
    );
    expect(all.report).toMatchObject({ kind: 'work_orders', taken: 2, setAside: 0 });
    expect(
      all.orders.map(({ line, row }) => [line, row.workOrder, row.unit, row.odometerKm, row.partsCostMinor]),
    ).toEqual([
      [1, '14', '014', 1e6, 18_305],
      [2, '9007199254740993', '014', null, -100],
    ]);
    expect(all.orders[0]!.row).toMatchObject({
      openedUs: Date.UTC(2024, 2, 1) * 1000,
      closedUs: Date.UTC(2024, 2, 5) * 1000,
      roadCall: true,
    });
    expect(all.orders[1]!.row).toMatchObject({ closedUs: null, roadCall: null });
  });
});

describe('a damaged Arrow file is refused as a whole, with a reason', () => {
  it.each(['file', 'stream'] as const)('a %s cut anywhere', async (shape) => {
    const whole = arrowBytes(wave(), shape, 1);
    for (const share of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      const cut = whole.subarray(0, Math.floor((whole.length - 12) * share) | 1);
      await expect(read(cut)).rejects.toThrow(/^Arrow file requires .*, got .*/);
    }
  });

  it('rubbish after the first mark', async () => {
    await expect(read(Buffer.from(`ARROW1\0\0${'rubbish '.repeat(40)}`))).rejects.toThrow(/^Arrow file requires /);
    await expect(read(Buffer.from([0xff, 0xff, 0xff, 0xff, 4, 0, 0, 0, 1, 2, 3, 4]))).rejects.toThrow(
      /^Arrow file requires /,
    );
    await expect(read(Buffer.from('ARROW1\0\0'))).rejects.toThrow('got one that ends early');
    await expect(read(Buffer.from([0xff, 0xff, 0xff, 0xff, 0, 0, 0, 0]))).rejects.toThrow(
      'Arrow file requires a schema, got none',
    );
  });

  it('any byte changed: every row is used or counted, or the file is refused', async () => {
    const whole = arrowBytes(wave(), 'file');
    for (let at = 8; at < whole.length; at += 11) {
      const copy = Uint8Array.from(whole);
      copy[at]! ^= 0x55;
      const outcome = await read(copy).then(
        ({ report }) => report.taken + report.setAside,
        (error: unknown) => (error as Error).message,
      );
      if (typeof outcome === 'string') expect(outcome).toMatch(/ requires /);
      else expect(outcome).toBeGreaterThanOrEqual(0);
    }
  });

  it('a code that its dictionary does not have', async () => {
    const type = new Dictionary(new Utf8(), new Int32());
    const unit = makeVector(makeData({ type, data: Int32Array.of(0, 1, 7), dictionary: texts('T-1', 'T-2') }));
    await expect(read(arrowBytes(wave({ unit }), 'stream'))).rejects.toThrow(
      'Arrow file requires a text in every row that is said to have one, got null',
    );
  });

  it('columns of no kind are named', async () => {
    await expect(read(arrowBytes({ town: texts('a'), date: texts('b') }, 'file'))).rejects.toThrow(
      'file requires the columns of a known kind, got town, date',
    );
  });
});
