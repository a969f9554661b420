import { parse } from 'csv-parse/sync';
import {
  array,
  assert,
  asyncProperty,
  constant,
  constantFrom,
  double,
  integer,
  nat,
  oneof,
  record,
  shuffledSubarray,
  tuple,
} from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crankCsv } from '../../etl/readers/kinds/crank-csv.ts';
import type { TableReader } from '../../etl/readers/reader.ts';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';
import { workOrdersCsv } from '../../etl/readers/kinds/work-orders-csv.ts';
import { collect, cutAt, textStream } from '../support/collected-rows.ts';

/** Cells as loggers write them, and as they should not. */
const UNIT = constantFrom('T-1', 'T-1', 'T-1', 'T 014', 'Größe 7', '"a,b"', '"say ""x"""', '');
const TIME = oneof(
  integer({ min: 0, max: 1.7e9 }).map((ms) => new Date(1.6e12 + ms).toISOString()),
  integer({ min: 0, max: 1.7e9 }).map((ms) => `${1.6e12 + ms}.${ms % 1000}`),
  constantFrom(
    '2024-03-01T06:00:00Z',
    '2024-03-01 06:00:00.123456789+01:00',
    '2024-03-01T06:00:00.1234567-0530',
    '"2024-03-01T06:00:00.5Z"',
    '2024-03-01T06:00:00',
    '2024-02-30T06:00:00Z',
    '1970-01-01T00:00:01Z',
    '17000000',
    'now',
    '',
  ),
);
const NUMBER = oneof(
  double({ min: -5, max: 65, noNaN: true }).map((value) => value.toFixed(3)),
  constantFrom('12', '+12.5', '.5', '-0', '1.25e1', '"12.5"', ' 12.5 ', '00012.500', '12.123456789012345678'),
  constantFrom('', 'NaN', '1e9', 'low', '12,5x', '--1', '1.2.3', '-', '.', '0x10'),
);
const COLUMNS = { unit: UNIT, time: TIME, volts: NUMBER, rpm: NUMBER, note: UNIT };
type Column = keyof typeof COLUMNS;

const files = shuffledSubarray(['unit', 'time', 'volts', 'rpm', 'note'] as Column[], { minLength: 5 }).chain((order) =>
  record({
    order: constant(order),
    rows: array(tuple(...order.map((column) => COLUMNS[column])), { maxLength: 30 }),
    end: constantFrom('\n', '\r\n'),
  }),
);

describe('the scanner against a general parser that reads at leisure', () => {
  it('gives the same rows, on the same lines, and sets the same rows aside', async () => {
    await assert(
      asyncProperty(files, async ({ order, rows, end }) => {
        const text = [order, ...rows].map((cells) => cells.join(',') + end).join('');
        const { samples, setAside } = await collect(waveformCsv, textStream(text));
        const expected = atLeisure(text, order);
        expect(samples).toEqual(expected.samples);
        expect(setAside.map(({ line }) => line)).toEqual(expected.setAside);
      }),
      { numRuns: 300 },
    );
  });
});

/** csv-parse, regular expressions and Date: another way to the same rows. */
function atLeisure(text: string, order: readonly Column[]) {
  const [, ...rows] = parse(text, { relax_column_count: true, skip_empty_lines: true });
  const samples: unknown[] = [];
  const setAside: number[] = [];
  for (const [index, cells] of rows.entries()) {
    const cell = (column: Column) => cells[order.indexOf(column)]!.trim();
    const row = { unit: cell('unit'), timeUs: slowTime(cell('time')), volts: slowNumber(cell('volts'), -5, 65) };
    const rpm = /^(nan)?$/i.test(cell('rpm')) ? Number.NaN : slowNumber(cell('rpm'), 0, 20_000);
    const line = index + 2;
    const readable = cells.length === 5 && row.unit !== '' && row.timeUs !== null && row.volts !== null && rpm !== null;
    if (readable) samples.push({ ...row, rpm, line });
    else setAside.push(line);
  }
  return { samples, setAside };
}

function slowNumber(cell: string, least: number, most: number): number | null {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(cell)) return null;
  return Number(cell) >= least && Number(cell) <= most ? Number(cell) : null;
}

function slowTime(cell: string): number | null {
  if (/^\d{9,}(\.\d+)?$/.test(cell)) return Math.round(Number(cell) * 1000);
  const match = /^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d:\d\d)(?:\.(\d+))?(Z|[+-]\d\d):?(\d\d)?$/.exec(cell);
  if (match === null) return null;
  const [, day = '', clock = '', decimals = '', sign = '', minutes = '00'] = match;
  const ms = Date.parse(`${day}T${clock}${sign === 'Z' ? 'Z' : `${sign}:${minutes}`}`);
  const real =
    !Number.isNaN(Date.parse(`${day}T00:00:00Z`)) && new Date(`${day}T00:00:00Z`).getUTCDate() === +day.slice(8);
  const us = ms * 1000 + Number(decimals.padEnd(6, '0').slice(0, 6));
  return real && us >= Date.UTC(1990, 0, 1) * 1000 ? us : null;
}

/** One sound file of each kind, quotes and an odd row included. */
const SOUND: { reader: TableReader; text: string }[] = [
  {
    reader: waveformCsv,
    text: `unit,time,volts,note\n${'T-1,2024-03-01T06:00:00.125Z,12.5,ok\n"T,2",1700000000123.5,9.25,"a ""b""\nc"\nT-1,x,1,\n'.repeat(8)}`,
  },
  {
    reader: crankCsv,
    text: `unit,time,rest_volts,dip_volts,crank_seconds,outcome\n${'T-1,2024-03-01T06:00:00Z,12.5,8.1,0.9,started\nT-2,2024-03-01T06:00:00+01:00,25,17,1.5,\n'.repeat(12)}`,
  },
  {
    reader: workOrdersCsv,
    text: `work_order,unit,opened,complaint,parts_cost\n${'W1,U1,2024-01-05,"no start, ""click""\nonly",183.05\nW2,U2,2024-02-30,5" BELT,1\nW3,U1,2024-03-01,"LH" LAMP,\n'.repeat(8)}`,
  },
];

describe('where a file is cut into chunks does not matter', () => {
  it.each(SOUND)('$reader.name', async ({ reader, text }) => {
    const bytes = Buffer.from(text);
    const whole = await collect(reader, cutAt(bytes, []));
    expect(whole.report.taken).toBeGreaterThan(10);
    await assert(
      asyncProperty(array(nat(bytes.length), { maxLength: 12 }), async (places) => {
        expect(await collect(reader, cutAt(bytes, places))).toEqual(whole);
      }),
      { numRuns: 60 },
    );
    expect(
      await collect(
        reader,
        cutAt(
          bytes,
          Array.from({ length: bytes.length }, (_, at) => at),
        ),
      ),
    ).toEqual(whole);
  });
});

type Damage = { at: number; what: 'flip' | 'cut' | 'double'; byte: number };
const damages = array(
  record({
    at: double({ min: 0, max: 0.999, noNaN: true }),
    what: constantFrom<Damage['what']>('flip', 'cut', 'double'),
    byte: nat(255),
  }),
  { minLength: 1, maxLength: 8 },
);

describe('a damaged file never stops the reading, and every row of it is used or set aside', () => {
  it.each(SOUND)('$reader.name', async ({ reader, text }) => {
    await assert(
      asyncProperty(damages, async (list) => {
        const headerEnd = text.indexOf('\n') + 1;
        const body = list.reduce(damaged, Buffer.from(text.slice(headerEnd)));
        const bytes = Buffer.concat([Buffer.from(text.slice(0, headerEnd)), body]);
        const { report, setAside, samples, cranks, orders } = await collect(reader, cutAt(bytes, []));
        expect(setAside.length).toBe(report.setAside);
        expect(samples.length + cranks.length + orders.length).toBe(report.taken);
        if (!body.includes(0x22)) expect(report.taken + report.setAside).toBe(filledLines(body));
        for (const { line, reason } of setAside) {
          expect(line).toBeGreaterThan(1);
          expect(reason).toMatch(/ requires /);
        }
      }),
      { numRuns: 150 },
    );
  });
});

function damaged(bytes: Buffer, { at, what, byte }: Damage): Buffer {
  const place = Math.floor(at * bytes.length);
  if (what === 'flip') {
    const copy = Buffer.from(bytes);
    copy[place] = byte;
    return copy;
  }
  const length = 1 + (byte % 40);
  const [before, piece, after] = [
    bytes.subarray(0, place),
    bytes.subarray(place, place + length),
    bytes.subarray(place + length),
  ];
  return Buffer.concat(what === 'cut' ? [before, after] : [before, piece, piece, after]);
}

/** Physical lines that hold anything but blanks. */
function filledLines(body: Buffer): number {
  return body
    .toString('latin1')
    .split('\n')
    .filter((line) => !/^[ \t\r]*$/.test(line)).length;
}
