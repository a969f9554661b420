import { mkdtemp, mkdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBytes } from '../../etl/readers/bytes/byte-stream.ts';
import { crankCsv } from '../../etl/readers/kinds/crank-csv.ts';
import type { ByteStream } from '../../etl/readers/reader.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';
import { workOrdersCsv } from '../../etl/readers/kinds/work-orders-csv.ts';
import { collect, cutAt, textStream } from '../support/collected-rows.ts';

const HEADER = 'unit,time,volts\n';
const GOOD = 'T-1,2024-03-01T06:00:00.000Z,12.5\n';
const NOW_US = Date.UTC(2026, 0, 1) * 1000;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'readers-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function sniffed(content: string | Uint8Array): Promise<string> {
  const answer = await sniffFile({ path: 'log', bytes: cutAt(Buffer.from(content), []) });
  return 'reader' in answer ? answer.reader.kind : answer.unrecognised;
}

async function refusal(row: string, header = HEADER): Promise<[string, string, string]> {
  const { report, setAside } = await collect(waveformCsv, textStream(header + GOOD + row), NOW_US);
  expect([report.taken, report.setAside]).toEqual([1, 1]);
  expect(setAside[0]!.line).toBe(3);
  return [setAside[0]!.field, setAside[0]!.value, setAside[0]!.reason];
}

describe('a file that is no table is refused with what it looks like', () => {
  it('an empty file', async () => {
    expect(await sniffed('')).toBe('file requires a header row, got an empty file');
  });
  it('semicolons or tabs between the columns', async () => {
    expect(await sniffed('unit;time;volts\n')).toBe('file requires commas between columns, got semicolons');
    expect(await sniffed('unit\ttime\tvolts\n')).toBe('file requires commas between columns, got tabs');
  });
  it('binary rubbish, other encodings, spreadsheets', async () => {
    expect(await sniffed(Uint8Array.of(1, 0, 7, 10))).toBe('file requires a table as text, got binary data');
    expect(await sniffed(Uint8Array.of(0xc3, 0x28, 10))).toBe(
      'file requires UTF-8 text, got other bytes: save it as CSV UTF-8',
    );
    expect(await sniffed('PK\u0003\u0004')).toContain('ZIP archive or spreadsheet: unpack it');
  });
  it('columns of no kind: the nearest kind and what it lacks', async () => {
    expect(await sniffed('unit,time,current\n')).toBe(
      'file requires the columns of a known kind, got unit, time, current: nearest is waveform, which also needs volts',
    );
  });
});

describe('a header is read as people write it', () => {
  it('byte-order mark, capitals, blanks, quotes, any order', async () => {
    expect(await sniffed('\uFEFF"Volts", TIME ,Unit\n')).toBe('waveform');
  });
  it('a quote that is never closed is part of a name, and its file of no kind', async () => {
    expect(await sniffed('d}\r1","date":"2026,unit,time\n')).toContain(
      'file requires the columns of a known kind, got ',
    );
    expect(await sniffed('unit,time,"volts\n')).toContain('which also needs volts');
  });
  it('a header alone is a file of no rows', async () => {
    const { report } = await collect(waveformCsv, textStream(HEADER));
    expect(report).toEqual({ kind: 'waveform', taken: 0, setAside: 0, unknownColumns: [], notes: [] });
  });
  it('unknown columns are named', async () => {
    const { report } = await collect(waveformCsv, textStream('unit,gps,time,volts\nT,x,2024-03-01T06:00:00Z,1\n'));
    expect(report.unknownColumns).toEqual(['gps']);
  });
});

describe('a field that cannot be read sets its row aside with field, value and reason', () => {
  it('numbers', async () => {
    expect(await refusal('T-1,2024-03-01T06:00:00Z,NaN')).toEqual(['volts', 'NaN', 'volts requires a number']);
    expect(await refusal('T-1,2024-03-01T06:00:00Z,')).toEqual(['volts', '', 'volts requires a number']);
    expect(await refusal('T-1,2024-03-01T06:00:00Z,low')).toEqual(['volts', 'low', 'volts requires a number']);
    expect(await refusal('T-1,2024-03-01T06:00:00Z,1e9')).toEqual([
      'volts',
      '1e9',
      'volts requires a value from -5 to 65 V',
    ]);
    expect((await refusal('T-1,2024-03-01T06:00:00Z,1000000000'))[2]).toBe('volts requires a value from -5 to 65 V');
  });
  it('times', async () => {
    expect(await refusal('T-1,2024-03-01T06:00:00,12')).toEqual([
      'time',
      '2024-03-01T06:00:00',
      'time requires a zone (Z or an offset such as +01:00): give time.zone in a profile',
    ]);
    const clock = 'time requires a date from 1990 on: the clock was not set';
    expect((await refusal('T-1,1970-01-01T00:00:05Z,12'))[2]).toBe(clock);
    expect((await refusal('T-1,2026-01-02T00:00:01Z,12'))[2]).toContain('the clock is ahead');
    expect((await refusal('T-1,2023-02-29T00:00:00Z,12'))[2]).toContain('time requires ISO 8601');
    expect((await refusal('T-1,yesterday,12'))[2]).toContain('time requires ISO 8601');
  });
  it('a name that is missing or not UTF-8; too few fields', async () => {
    expect((await refusal(',2024-03-01T06:00:00Z,12'))[2]).toBe('unit requires a name');
    expect((await refusal('T-1,2024-03-01T06:00:00Z'))[2]).toBe('row requires 3 fields as in the header');
    const bytes = Buffer.concat([Buffer.from(HEADER), Uint8Array.of(0xc3), Buffer.from(GOOD)]);
    const { setAside } = await collect(waveformCsv, cutAt(bytes, []));
    expect(setAside.map(({ reason }) => reason)).toEqual(['unit requires text in UTF-8 without control characters']);
  });
  it('event rows: a negative time or voltage, an unknown outcome', async () => {
    const row = (rest: string, seconds: string, outcome: string) =>
      `T,2024-03-01T06:00:00Z,${rest},8,${seconds},${outcome}\n`;
    const text = `unit,time,rest_volts,dip_volts,crank_seconds,outcome\n${row('12', '1', 'Started')}${row('-1', '1', '')}${row('12', '-1', '')}${row('12', '1', 'maybe')}`;
    const { report, setAside, cranks } = await collect(crankCsv, textStream(text));
    expect([report.taken, report.setAside, cranks[0]!.outcome]).toEqual([1, 3, 0]);
    expect(setAside.map(({ field }) => field)).toEqual(['rest_volts', 'crank_seconds', 'outcome']);
  });
});

describe('odd but sound text is read', () => {
  it('CRLF, blank lines, a last line without end, lone carriage returns', async () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const text = (HEADER + GOOD + '\n' + GOOD).trimEnd().replaceAll('\n', end);
      const { report, samples } = await collect(waveformCsv, textStream(text));
      expect([report.taken, report.setAside]).toEqual([2, 0]);
      expect(samples.map(({ line }) => line)).toEqual([2, 4]);
    }
  });
  it('quotes with commas and line ends inside', async () => {
    const text = `note,${HEADER}"a, ""b""\nc",${GOOD}x,${GOOD}`;
    const { samples, report } = await collect(waveformCsv, textStream(text));
    expect(report.setAside).toBe(0);
    expect(samples.map(({ line, unit }) => [line, unit])).toEqual([
      [2, 'T-1'],
      [4, 'T-1'],
    ]);
  });
  it('a stray quote loses its own line only', async () => {
    const text = `${HEADER}${GOOD}"T-1,2024-03-01T06:00:00Z,12\n${GOOD}${GOOD}`;
    const { report, setAside } = await collect(waveformCsv, textStream(text));
    expect([report.taken, report.setAside]).toEqual([3, 1]);
    expect(setAside[0]).toMatchObject({ line: 3, reason: 'row requires a closing quote' });
  });
  it('a stray quote in a work order loses its own line only', async () => {
    const text =
      'work_order,unit,opened,complaint\nW1,U,2024-01-01,A\nW2,U,2024-01-02,"12 V\nW3,U,2024-01-03,"B\nb"\nW4,U,2024-01-04,C\n';
    const { report, orders, setAside } = await collect(workOrdersCsv, textStream(text));
    expect(orders.map(({ line, row }) => [line, row.workOrder])).toEqual([
      [2, 'W1'],
      [4, 'W3'],
      [6, 'W4'],
    ]);
    expect(setAside).toMatchObject([{ line: 3, reason: 'row requires a closing quote' }]);
    expect(report.taken + report.setAside).toBe(4);
  });
  it('a date that does not exist is set aside, not a crash', async () => {
    const text = 'work_order,unit,opened\nW1,U,2024-13-45\nW2,U,2024-02-30\nW3,U,2024-02-29\n';
    const { report, setAside } = await collect(workOrdersCsv, textStream(text));
    expect([report.taken, report.setAside]).toEqual([1, 2]);
    expect(setAside[0]!.field).toBe('opened');
  });
});

describe('a line without end is set aside whole, in bounded memory', () => {
  async function* withLongLine(before: string, after: string, mebibytes: number): ByteStream {
    yield Buffer.from(before);
    const chunk = Buffer.alloc(1 << 20, 'x');
    for (let count = 0; count < mebibytes; count += 1) yield chunk;
    yield Buffer.from(`\n${after}`);
  }
  it('in a log', async () => {
    const bytes = withLongLine(HEADER + GOOD, GOOD, 64);
    const { report, setAside, samples } = await collect(waveformCsv, bytes);
    expect([report.taken, report.setAside]).toEqual([2, 1]);
    expect(setAside[0]).toMatchObject({ line: 3, reason: 'row requires at most 1 MiB on one line' });
    expect(setAside[0]!.value.length).toBeLessThanOrEqual(201);
    expect(samples.map(({ line }) => line)).toEqual([2, 4]);
  });
  it('in a record', async () => {
    const order = 'W1,U,2024-01-01\n';
    const bytes = withLongLine(`work_order,unit,opened\n${order}`, order, 64);
    const { report, setAside, orders } = await collect(workOrdersCsv, bytes);
    expect([report.taken, report.setAside]).toEqual([2, 1]);
    expect(setAside[0]!.line).toBe(3);
    expect(orders.map(({ line }) => line)).toEqual([2, 4]);
  });
  it('a file of nothing but bad rows is told in batches', async () => {
    const { report, largestSetAside } = await collect(waveformCsv, textStream(HEADER + 'x\n'.repeat(5000)));
    expect(report.setAside).toBe(5000);
    expect(largestSetAside).toBeLessThanOrEqual(1000);
  });
});

describe('gzip', () => {
  const text =
    HEADER +
    Array.from({ length: 20_000 }, (_, i) => `T-${i % 7},${1.7e12 + i * 7.25},${12 + (i % 97) / 100}\n`).join('');

  it('is told by its bytes and gives the same rows', async () => {
    const path = join(folder, 'log.csv');
    await writeFile(path, gzipSync(text));
    const zipped = await collect(waveformCsv, openBytes(path));
    const plain = await collect(waveformCsv, textStream(text));
    expect(zipped).toEqual(plain);
    expect(zipped.report.taken).toBe(20_000);
  });
  it('two members one after the other are one file (RFC 1952, 2.2)', async () => {
    const path = join(folder, 'two.csv.gz');
    await writeFile(path, Buffer.concat([gzipSync(HEADER + GOOD), gzipSync(GOOD)]));
    expect((await collect(waveformCsv, openBytes(path))).report.taken).toBe(2);
  });
  it('cut short: the rows before the break load, the break is told', async () => {
    const path = join(folder, 'cut.csv.gz');
    const whole = gzipSync(text);
    await writeFile(path, whole.subarray(0, whole.length / 2));
    const file = openBytes(path);
    const { report, setAside, samples } = await collect(waveformCsv, file);
    expect(report.taken).toBeGreaterThan(5000);
    expect(report.setAside).toBe(1);
    expect(setAside[0]!.line).toBe(report.taken + 2);
    expect(setAside[0]!.reason).toContain('gzip file requires a whole archive, got a file that ends early');
    expect(samples.at(-1)!.line).toBe(report.taken + 1);
    expect(file.hash()).toMatch(/^[0-9a-f]{64}$/);
  });
  it('records cut short keep their rows too', async () => {
    const path = join(folder, 'orders.csv.gz');
    const rows = Array.from({ length: 3000 }, (_, i) => `W${i},U${i % 9},2024-01-01,no start ${(i * 7919) % 1000}\n`);
    const whole = gzipSync(`work_order,unit,opened,complaint\n${rows.join('')}`);
    await writeFile(path, whole.subarray(0, whole.length / 2));
    const { report, setAside } = await collect(workOrdersCsv, openBytes(path));
    expect(report.taken).toBeGreaterThan(500);
    expect(report.setAside).toBe(1);
    expect(setAside[0]!.reason).toContain('ends early');
  });
  it('zeros behind its end fill up a block; anything else there is told, and the rows before it load', async () => {
    const path = join(folder, 'padded.csv.gz');
    const whole = gzipSync(HEADER + GOOD);
    const padding = Buffer.alloc(100_000);
    await writeFile(path, Buffer.concat([whole, padding]));
    expect((await collect(waveformCsv, openBytes(path))).report).toMatchObject({ taken: 1, setAside: 0 });
    await writeFile(path, Buffer.concat([whole, padding, whole]));
    const { report, setAside } = await collect(waveformCsv, openBytes(path));
    expect(report.taken).toBe(1);
    expect(setAside[0]!.reason).toContain('gzip file requires nothing behind its end but zeros, got other data');
  });
  it('damaged in the middle', async () => {
    const path = join(folder, 'damaged.csv.gz');
    const whole = Buffer.from(gzipSync(text));
    whole.fill(0xff, whole.length >> 1, (whole.length >> 1) + 64);
    await writeFile(path, whole);
    const { report, setAside } = await collect(waveformCsv, openBytes(path));
    expect(report.taken).toBeGreaterThan(5000);
    expect(setAside.at(-1)!.reason).toContain('gzip file requires a whole archive, got damaged data');
  });
});

describe('a path that cannot be read', () => {
  const failing = (code: string) => async () => {
    throw Object.assign(new Error(code), { code });
  };
  const reasonOf = async (bytes: ByteStream) => {
    const answer = await sniffFile({ path: 'log', bytes });
    return 'reader' in answer ? answer.reader.name : answer.unrecognised;
  };
  // Root may read everything, so the refusal of the system is played.
  it('without permission', async () => {
    expect(await reasonOf(openBytes('/data/log.csv', undefined, failing('EACCES')))).toBe(
      'file requires permission to read it, got none: ask its owner to allow reading (/data/log.csv)',
    );
  });
  it('nothing there, a folder', async () => {
    expect(await reasonOf(openBytes(join(folder, 'gone.csv')))).toContain(
      'file requires a path that exists, got nothing',
    );
    await mkdir(join(folder, 'sub'));
    expect(await reasonOf(openBytes(join(folder, 'sub')))).toContain('file requires a plain file, got a folder');
  });
  it('hash before the end is refused', () => {
    expect(() => openBytes('/data/log.csv').hash()).toThrow(
      'hash requires a file read to its end, got 0 bytes (/data/log.csv)',
    );
  });
});
