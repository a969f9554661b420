import {
  array,
  assert,
  asyncProperty,
  boolean,
  constant,
  constantFrom,
  integer,
  nat,
  oneof,
  record,
  type Arbitrary,
} from 'fast-check';
import { describe, expect, it } from 'vitest';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';
import { get, I32, i32, moduleOf } from '../../etl/readers/csv/wasm-code.ts';
import { collect, cutAt, textStream } from '../support/collected-rows.ts';

/** How a logger writes one stretch of rows: each of the choices stays the same from row to row. */
type Stretch = {
  unit: string;
  fromMs: number;
  stepUs: number;
  time: 'iso' | 'epoch';
  timeDecimals: number;
  volts: number;
  voltsDecimals: number;
  amps: 'none' | 'some' | 'negative' | 'whole';
  rows: number;
  position: string;
  odd: string | null;
};

const PLAIN_UNITS = [
  'T',
  'T-1',
  'UNIT-12',
  'UNIT-123',
  'UNIT-1234',
  'Größe 7',
  ' Bus 12',
  'x'.repeat(63),
  'y'.repeat(70),
];
const ODD_UNITS = ['"T-1"', '"a,b"', '"say ""x"""', '"two\nlines"', '""', '" "', ' '];
const UNITS = constantFrom(...PLAIN_UNITS, ...PLAIN_UNITS, ...ODD_UNITS);
/** Rows that stand between plain ones: rubbish, blank, cut short, of too many fields, beyond a limit, padded. */
const ODD = constantFrom(
  'T-1,2024-03-01T06:00:00Z,low,,',
  '',
  'T-1,2024-03-01T06:00:00Z',
  'T-1,2024-03-01T06:00:00Z,12.5,1,note,more',
  'T-1,2024-03-01T06:00:60Z,12.5,1,',
  'T-1,2024-03-01T06:00:00.1234567Z,12.5,1,',
  'T-1,2024-03-01T06:00:00+01:00,12.5,1,',
  'T-1,1709251200000.1234,12.5,1,',
  'T-1,170925120,12.5,1,',
  ' T-1 ,2024-03-01T06:00:00Z, 12.5 ,+1,x',
  'T-1,2024-03-01T06:00:00Z,-0.0,-0,x',
  'T-1,2024-03-01T06:00:00Z,12.,.5,x',
  'T-1,2024-03-01T06:00:00Z,1234567890.5,1,x',
  'T-1,2024-03-01T06:00:00Z,99,1,x',
  ',2024-03-01T06:00:00Z,12.5,1,x',
);
const stretches: Arbitrary<Stretch[]> = array(
  record({
    unit: UNITS,
    fromMs: integer({ min: Date.UTC(2023, 0, 1), max: Date.UTC(2025, 0, 1) }),
    stepUs: constantFrom(100, 1000, 10_000, 1_000_000, 61_000_000),
    time: constantFrom('iso' as const, 'epoch' as const),
    timeDecimals: nat(7),
    volts: oneof(integer({ min: -4000, max: 60_000 }), constant(9990)),
    voltsDecimals: nat(5),
    amps: constantFrom('none', 'some', 'negative', 'whole'),
    rows: integer({ min: 1, max: 40 }),
    position: constantFrom('a note', '', '"left"', 'Ü'),
    odd: oneof(constant(null), ODD),
  }),
  { minLength: 1, maxLength: 6 },
);

function rowsOf(stretch: Stretch): string[] {
  const rows = Array.from({ length: stretch.rows }, (_, row) => {
    const volts = ((stretch.volts + 7 * row) / 1000).toFixed(stretch.voltsDecimals);
    return [stretch.unit, timeOf(stretch, row), volts, ampsOf(stretch.amps, row), stretch.position].join(',');
  });
  return stretch.odd === null ? rows : [...rows, stretch.odd, ...rows.slice(0, 3)];
}

function timeOf({ fromMs, stepUs, time, timeDecimals }: Stretch, row: number): string {
  const us = fromMs * 1000 + row * stepUs;
  const micros = String(us % 1_000_000).padStart(6, '0');
  if (time === 'epoch') {
    const decimals = micros.slice(3, 3 + timeDecimals).padEnd(timeDecimals, '0');
    return Math.floor(us / 1000) + (timeDecimals === 0 ? '' : `.${decimals}`);
  }
  const second = new Date(us / 1000).toISOString().slice(0, 19);
  return `${second}${timeDecimals === 0 ? '' : `.${micros.slice(0, timeDecimals).padEnd(timeDecimals, '0')}`}Z`;
}

function ampsOf(amps: Stretch['amps'], row: number): string {
  return { none: '', some: (5 + row / 10).toFixed(1), negative: (-3 - row).toFixed(2), whole: String(row) }[amps];
}

const HEADER = 'unit,time,volts,amps,position';
/** A quoted time is read by the general scanner, and the row with it. */
const quoted = (row: string) => row.replace(/(?<=^(?:"(?:[^"]|"")*"|[^",]*),)([^,]+)/, '"$1"');

describe('rows that look like the one before', () => {
  it('are read as the general scanner reads them, wherever the file is cut', { timeout: 120_000 }, async () => {
    await assert(
      asyncProperty(stretches, boolean(), array(nat(4000), { maxLength: 4 }), async (plan, isWindows, places) => {
        const rows = plan.flatMap(rowsOf);
        const end = isWindows ? '\r\n' : '\n';
        const text = [HEADER, ...rows, ''].join(end);
        const bytes = Buffer.from(text);
        const read = await collect(
          waveformCsv,
          cutAt(
            bytes,
            places.filter((at) => at < bytes.length),
          ),
        );
        const general = await collect(waveformCsv, textStream([HEADER, ...rows.map(quoted), ''].join(end)));
        expect(read.samples).toEqual(general.samples);
        expect(read.report).toEqual(general.report);
        expect(read.setAside.map(({ line, reason }) => [line, reason])).toEqual(
          general.setAside.map(({ line, reason }) => [line, reason]),
        );
      }),
      { numRuns: 300 },
    );
  });

  it('are read to the last digit: a zero with a sign, nine digits, six decimals of a second, the end of a minute', async () => {
    const rows = [
      'T-1,2024-03-01T06:00:59.999999Z,12.3456789,-0.0,n',
      'T-1,2024-03-01T06:00:59.999999Z,12.3456789,-0.0,n',
      'T-1,2024-03-01T06:01:00.000001Z,0.1,0.3,n',
    ];
    const { samples } = await collect(waveformCsv, textStream([HEADER, ...rows, ''].join('\n')));
    const us = Date.UTC(2024, 2, 1, 6, 1) * 1000;
    expect(samples.map(({ timeUs, volts, amps }) => [timeUs, volts, amps])).toEqual([
      [us - 1, 12.3456789, -0],
      [us - 1, 12.3456789, -0],
      [us + 1, 0.1, 0.3],
    ]);
  });

  it('end where a quote is not closed', async () => {
    const header = 'time,volts,unit,other';
    const rows = ['T', 'T', '"T', '"T', '"T"', '"T"'].map((unit) => `2024-03-01T06:00:00Z,12.5,${unit},`);
    const { samples, setAside } = await collect(waveformCsv, textStream([header, ...rows, ''].join('\n')));
    expect(samples.map(({ line, unit }) => [line, unit])).toEqual([2, 3, 6, 7].map((line) => [line, 'T']));
    expect(setAside.map(({ line, reason }) => [line, reason])).toEqual(
      [4, 5].map((line) => [line, 'row requires a closing quote']),
    );
  });

  it('are read with any count of columns: more than the machine code has room for, too', async () => {
    for (const more of [0, 1, 70, 200]) {
      const extra = Array.from({ length: more }, (_, k) => `other_${k}`);
      const row = ['T-1', '2024-03-01T06:00:00Z', '12.5', '1', 'n', ...extra.map(String)].join(',');
      const text = [[HEADER, ...extra].join(','), row, row.replace('12.5', '12.6'), row, ''].join('\n');
      const { samples, report } = await collect(waveformCsv, textStream(text));
      expect([report.taken, samples.map(({ volts }) => volts)]).toEqual([3, [12.5, 12.6, 12.5]]);
    }
  });
});

describe('the assembler', () => {
  it('writes a module that runs', () => {
    const module = moduleOf(
      { given: [I32, I32], locals: [], result: I32 },
      i32.add(get(0), i32.mul(get(1), i32.const(-300))),
    );
    const memory = new WebAssembly.Memory({ initial: 1 });
    const { exports } = new WebAssembly.Instance(module, { env: { memory } });
    expect((exports['run'] as (a: number, b: number) => number)(1000, 2)).toBe(400);
  });
});
