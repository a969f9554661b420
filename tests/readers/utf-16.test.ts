import { describe, expect, it } from 'vitest';
import { UnreadableFile } from '../../etl/model/set-aside.ts';
import { utf16Of, utf8Text } from '../../etl/readers/bytes/utf-16.ts';
import type { ByteStream } from '../../etl/readers/reader.ts';
import { cutAt } from '../support/collected-rows.ts';
import { collectFile } from '../support/foreign-file.ts';

const TEXT = 'unit,time,volts,note\nT-1,2026-03-01T06:00:00Z,12.5,20 °C 😀\nT-1,2026-03-01T06:00:01Z,12.25,\n';
const littleEndian = (text: string) => Buffer.from(text, 'utf16le');
const bigEndian = (text: string) => Buffer.from(text, 'utf16le').swap16();

async function whole(stream: ByteStream): Promise<string> {
  const parts: Buffer[] = [];
  for await (const chunk of stream) parts.push(Buffer.from(chunk));
  return Buffer.concat(parts).toString('utf8');
}

describe('UTF-16 is told', () => {
  it('by its byte-order mark', () => {
    expect(utf16Of(littleEndian('\uFEFFu'))).toBe('utf-16le');
    expect(utf16Of(bigEndian('\uFEFFu'))).toBe('utf-16be');
  });
  it('without one by every second byte being zero', () => {
    expect(utf16Of(littleEndian(TEXT))).toBe('utf-16le');
    expect(utf16Of(bigEndian(TEXT))).toBe('utf-16be');
  });
  it('and no other beginning is taken for it', () => {
    expect(utf16Of(Buffer.from(TEXT))).toBeNull();
    expect(utf16Of(Buffer.from('PAR1\0\0\0\0PAR1\0\0\0\0PAR1'))).toBeNull();
    expect(utf16Of(Buffer.from('ARROW1\0\0ARROW1\0\0'))).toBeNull();
    expect(utf16Of(Buffer.alloc(64))).toBeNull();
    expect(utf16Of(Buffer.from('u\0n\0'))).toBeNull();
  });
});

describe('UTF-16 becomes UTF-8 as a stream', () => {
  it('wherever it is cut', async () => {
    for (const bytes of [littleEndian(TEXT), bigEndian(TEXT)])
      for (const places of [[], [17, 18, 63], [bytes.length - 1], Array.from({ length: 60 }, (_, k) => 16 + 3 * k)])
        expect(await whole(utf8Text(cutAt(bytes, places)))).toBe(TEXT);
  });
  it('and other bytes pass untouched', async () => {
    expect(await whole(utf8Text(cutAt(Buffer.from(TEXT), [5])))).toBe(TEXT);
  });
  it('what breaks off inside a character is told', async () => {
    const broken = littleEndian(TEXT).subarray(0, -1);
    await expect(whole(utf8Text(cutAt(broken, [])))).rejects.toThrow(
      new UnreadableFile('file requires whole UTF-16 text, got half a character at its end'),
    );
  });
  it('an encoding of the profile is taken at its word', async () => {
    const latin = Buffer.from('20 °C', 'latin1');
    expect(await whole(utf8Text(cutAt(latin, []), 'windows-1252'))).toBe('20 °C');
  });
});

describe('a file with the columns of a kind loads in UTF-16 as in UTF-8', () => {
  for (const [name, bytes] of [
    ['little-endian with mark', littleEndian(`\uFEFF${TEXT}`)],
    ['little-endian without', littleEndian(TEXT)],
    ['big-endian with mark', bigEndian(`\uFEFF${TEXT}`)],
    ['big-endian without, CRLF', bigEndian(TEXT.replaceAll('\n', '\r\n'))],
  ] as const)
    it(name, async () => {
      const plain = await collectFile('log.csv', TEXT, null);
      expect(plain.samples.map(({ volts }) => volts)).toEqual([12.5, 12.25]);
      expect(await collectFile('log.csv', bytes, null)).toEqual(plain);
    });
  it('a file that breaks off keeps the rows before the break', async () => {
    const { report, setAside } = await collectFile('log.csv', littleEndian(TEXT).subarray(0, -1), null);
    expect([report.taken, report.setAside]).toEqual([1, 1]);
    expect(setAside[0]!.reason).toContain('half a character');
  });
});
