import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { unpackZstdFrames, zstdReady } from '../../etl/readers/arrow/zstd-frames.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { bytesReader, expectBounded, expectUsedOrRefused } from '../support/read-bytes.ts';
import { zstdArrowStream } from '../support/zstd-arrow-stream.ts';

/** Frames made by the command `zstd` 1.5.4 at its levels 1 and 19. */
const TEXT = `abcabcabcabc no start, no start, no start; ${'x'.repeat(600)} end`;
const FAST = 'KLUv/QBIBQEAoGFiYyBubyBzdGFydCw7IHggZW5kAwBUcNVoScjCDQE=';
const SMALL = 'KLUv/QBo/QAAoGFiYyBubyBzdGFydCw7IHggZW5kAwBU3mq0JGThhg==';

const bytesOf = (base64: string) => Uint8Array.from(Buffer.from(base64, 'base64'));
const unpacked = (bytes: Uint8Array, room = 1 << 24) => Buffer.from(unpackZstdFrames(bytes, room));
const { path, read } = bytesReader('log.arrow');

/** Magic, one segment of one byte's length, then blocks of a 3-byte head: last, kind, size. */
const FRAME = [0x28, 0xb5, 0x2f, 0xfd, 0x20];
const [RAW, REPEATED, UNKNOWN] = [0, 1, 3];
const head = (kind: number, size: number) => [(size << 3) + (kind << 1) + 1, size >> 5, 0];

beforeAll(zstdReady);

describe('a Zstandard frame', () => {
  it.each([FAST, SMALL])('%s', (frame) => {
    expect(unpacked(bytesOf(frame)).toString()).toBe(TEXT);
  });

  it.each([
    ['a block that is not packed', [...FRAME, 3, ...head(RAW, 3), 97, 98, 99], 'abc'],
    ['a byte repeated', [...FRAME, 5, ...head(REPEATED, 5), 97], 'aaaaa'],
    ['nothing', [...FRAME, 0, ...head(RAW, 0)], ''],
    ['no frame', [], ''],
    ['one after another', [...FRAME, 1, ...head(RAW, 1), 97, ...FRAME, 1, ...head(RAW, 1), 98], 'ab'],
    ['one that holds no data', [0x53, 0x2a, 0x4d, 0x18, 2, 0, 0, 0, 9, 9, ...FRAME, 1, ...head(RAW, 1), 97], 'a'],
  ])('%s', (_, frame, text) => {
    expect(unpacked(Uint8Array.from(frame)).toString()).toBe(text);
  });

  it.each([
    ['another format', [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]],
    ['a dictionary', [...FRAME.slice(0, 4), 0x21, 1, 1, ...head(RAW, 0)]],
    ['an unknown kind of block', [...FRAME, 1, ...head(UNKNOWN, 1), 97]],
    ['a block that ends early', [...FRAME, 3, ...head(RAW, 3), 97]],
  ])('%s is refused', (_, frame) => {
    expect(() => unpacked(Uint8Array.from(frame))).toThrow('Zstandard frames require whole blocks and no dictionary');
  });

  it('that holds more than there is room for is refused', () => {
    expect(() => unpacked(bytesOf(FAST), TEXT.length - 1)).toThrow('at most 646 bytes unpacked, got others');
    expect(unpacked(bytesOf(FAST), TEXT.length).toString()).toBe(TEXT);
  });
});

/** Another program packs them; together they use every kind of table, literals and distance. */
const LINES = {
  'readings of a sensor': `SELECT (12 + sin(r / 50) + hash(r) % 100 / 2000)::DECIMAL(8, 3) FROM range(150000) t(r)`,
  'a count': `SELECT 1700000000000000 + 1000 * r FROM range(60000) t(r)`,
  'words of records': `SELECT ['no crank', 'battery', 'R&R strtr', 'left eng', 'ok'][(1 + hash(r) % 5)::BIGINT] || hash(r // 7) % 900 FROM range(80000) t(r)`,
  'one line again and again': `SELECT 'T-014' FROM range(90000)`,
  'chance alone': `SELECT md5(r::VARCHAR) || md5((r + 1)::VARCHAR) FROM range(9000) t(r)`,
  'a few lines': `SELECT 'unit ' || r FROM range(9) t(r)`,
};

describe('frames that another program has packed', () => {
  it.each(Object.entries(LINES))('%s', async (_, query) => {
    const [plain, packed] = [path('a.csv'), path('a.csv.zst')];
    const options = 'FORMAT csv, HEADER false';
    await withDuckDb(`COPY (${query}) TO '${plain}' (${options})`);
    await withDuckDb(`COPY (${query}) TO '${packed}' (${options}, COMPRESSION zstd)`);
    const [whole, frame] = [await readFile(plain), await readFile(packed)];
    expect(frame.length).toBeLessThan(whole.length);
    expect(unpacked(frame).equals(whole)).toBe(true);
  });

  it('cut or changed anywhere give an error or other bytes, never more than the room', async () => {
    const packed = path('b.csv.zst');
    await withDuckDb(`COPY (${LINES['words of records']} LIMIT 300) TO '${packed}' (FORMAT csv, COMPRESSION zstd)`);
    for (const whole of [bytesOf(FAST), Uint8Array.from(await readFile(packed))])
      expectBounded(whole, 20_000, unpackZstdFrames);
  });
});

describe('an Arrow stream with Zstandard inside', () => {
  it('gives its rows', async () => {
    const { report, samples } = await read(zstdArrowStream());
    expect(report).toMatchObject({ taken: 60, setAside: 0 });
    expect(samples.map(({ unit, timeUs, volts }) => [unit, timeUs, volts])).toEqual(
      Array.from({ length: 60 }, (_, at) => ['T-014', (1.7e12 + at) * 1000, 12 + (at % 2) / 2]),
    );
  });

  it('damaged: every row is used or counted, or the file is refused', async () =>
    expectUsedOrRefused(zstdArrowStream(), 60, read));
});
