import { describe, expect, it } from 'vitest';
import { unpackLz4Frame } from '../../etl/readers/arrow/lz4-frame.ts';
import { bytesReader, expectBounded, expectUsedOrRefused } from '../support/read-bytes.ts';

/** Frames made by the command `lz4` 1.9.4: plain, and with `-9 -BX` (best, block checksums). */
const TEXT = `abcabcabcabc no start, no start, no start; ${'x'.repeat(600)} end`;
const PLAIN = 'BCJNGGRApyMAAAA1YWJjAwCvIG5vIHN0YXJ0LAoAAD87IHgBAP//RVB4IGVuZAAAAABLMrSX';
const CHECKED = 'BCJNGHRAvSMAAAA1YWJjAwCvIG5vIHN0YXJ0LAoAAD87IHgBAP//RVB4IGVuZJYHGd4AAAAASzK0lw==';

/** 60 samples as an Arrow stream, each column packed by the same command. */
const STREAM = [
  '//////AAAAAQAAAAAAAKABAADgAHAAgACgAAAAAAAAEQAAAAAAAEAAgACAAAAAQACAAAAAQAAAADAAAAjAAAAEQAAAAEAAAA1P//',
  '/xAAAAAYAAAAAAAAAxQAAAAFAAAAdm9sdHMAAAAAAAAAwv///wAAAgAQABQABAAAAA8AEAAAAAgAEAAAABAAAAAYAAAAAAAAAxwA',
  'AAAEAAAAdGltZQAAAAAAAAAAAAAGAAgABgAGAAAAAAACABAAGAAEAAsAEwAUAAAADAAQAAAAFAAAAAAAAAEYAAAAAAAABRgAAAAE',
  'AAAAdW5pdAAAAAAAAAAABAAEAAQAAAD/////CAEAABQAAAAAAAAADAAYABYADwAQAAQADAAAAIACAAAAAAAAAAAAAxQAAAAAAAQA',
  'DAAcABAADAAIAAQADAAAABwAAAAcAAAAkAAAADwAAAAAAAAAAAAAAAQABAAEAAAABwAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA',
  'APwAAAAAAAAAAAEAAAAAAAArAAAAAAAAACsBAAAAAAAAAAAAAAAAAAAwAQAAAAAAABQBAAAAAAAARAIAAAAAAAAAAAAAAAAAAEgC',
  'AAAAAAAANAAAAAAAAAAAAAAAAwAAADwAAAAAAAAAAAAAAAAAAAA8AAAAAAAAAAAAAAAAAAAAPAAAAAAAAAAAAAAAAAAAAP//////',
  '////AAAAAAUAAAAKAAAADwAAABQAAAAZAAAAHgAAACMAAAAoAAAALQAAADIAAAA3AAAAPAAAAEEAAABGAAAASwAAAFAAAABVAAAA',
  'WgAAAF8AAABkAAAAaQAAAG4AAABzAAAAeAAAAH0AAACCAAAAhwAAAIwAAACRAAAAlgAAAJsAAACgAAAApQAAAKoAAACvAAAAtAAA',
  'ALkAAAC+AAAAwwAAAMgAAADNAAAA0gAAANcAAADcAAAA4QAAAOYAAADrAAAA8AAAAPUAAAD6AAAA/wAAAAQBAAAJAQAADgEAABMB',
  'AAAYAQAAHQEAACIBAAAnAQAALAEAAAAAAAAjAAAAAAAAAAQiTRhkQKcQAAAAX1QtMDE0BQD/EFBULTAxNAAAAAD5yFY8AAAAAAAM',
  'AQAAAAAAAAQiTRhkQKf5AAAAowAAgFb+vHhCABAIABMgCAATMAgAE0AIABNQCAATYAgAE3AIABOACAATkAgAE6AIABOwCAATwAgA',
  'E9AIABPgCAAT8AgAIwCBgAADCAATIAgAEzAIABNACAATUAgAE2AIABNwCAATgAgAE5AIABOgCAATsAgAE8AIABPQCAAT4AgAE/AI',
  'ACMAgoAAAwgAEyAIABMwCAATQAgAE1AIABNgCAATcAgAE4AIABOQCAAToAgAE7AIABPACAAT0AgAE+AIABPwCAAjAIOAAAMIABMg',
  'CAATMAgAE0AIABNQCAATYAgAE3AIABOACAATkAgAE6AIAHCwg1b+vHhCAAAAAA8X+F4AAAAALAAAAAAAAAAEIk0YZECnGQAAABEA',
  'AQAhKEAHACMAKQgADxAA/7NQAAAAKUAAAAAAhHXRfQAAAAD/////AAAAAA==',
].join('');

const bytesOf = (base64: string) => Uint8Array.from(Buffer.from(base64, 'base64'));
const { read } = bytesReader('log.arrow');

describe('an LZ4 frame', () => {
  it.each([PLAIN, CHECKED])('%s', (frame) => {
    expect(Buffer.from(unpackLz4Frame(bytesOf(frame), 1_000)).toString()).toBe(TEXT);
  });

  it('a block that is not packed', () => {
    const frame = [4, 34, 77, 24, 0x40, 0x40, 0xc0, 3, 0, 0, 0x80, 97, 98, 99, 0, 0, 0, 0];
    expect(Buffer.from(unpackLz4Frame(Uint8Array.from(frame), 10)).toString()).toBe('abc');
  });

  it('that holds more than there is room for is refused before it is unpacked', () => {
    expect(() => unpackLz4Frame(bytesOf(PLAIN), TEXT.length - 1)).toThrow(
      'LZ4 frame requires at most 646 bytes unpacked, got more',
    );
  });

  it('cut or changed anywhere gives an error or other bytes, never more than the room', () => {
    expectBounded(bytesOf(PLAIN), 2_000, unpackLz4Frame);
  });
});

describe('an Arrow stream with LZ4 inside', () => {
  it('gives its rows', async () => {
    const { report, samples } = await read(bytesOf(STREAM));
    expect(report).toMatchObject({ taken: 60, setAside: 0 });
    expect(samples.map(({ unit, timeUs, volts }) => [unit, timeUs, volts])).toEqual(
      Array.from({ length: 60 }, (_, at) => ['T-014', (1.7e12 + at) * 1000, 12 + (at % 2) / 2]),
    );
  });

  it('damaged: every row is used or counted, or the file is refused', async () =>
    expectUsedOrRefused(bytesOf(STREAM), 60, read));
});
