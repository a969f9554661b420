import { describe, expect, it } from 'vitest';
import { activeCodes } from '../../etl/readers/can/trouble-message.ts';
import type { Collected } from '../support/collected-rows.ts';
import { BEGIN_S, logLine, readBusLog } from '../support/bus-log.ts';

const codesOf = (hex: string) => {
  const data = Buffer.from(hex, 'hex');
  return activeCodes(data, data.length);
};
const brief = (codes: Collected['codes']) => codes.map(({ line, row }) => [line, row.spn, row.fmi]);

/** Layout of SAE J1939-73, conversion method 4; values put together by hand. */
describe('codes of one message', () => {
  it('SPN in 19 bits, FMI in five, occurrences in seven', () => {
    expect(codesOf('0000A800040A')).toEqual([{ spn: 168, fmi: 4, occurrences: 10 }]);
    // 0x7F3E5 = 521,189: bits 17–19 are the top of the third byte.
    expect(codesOf('0000E5F3FF7E')).toEqual([{ spn: 0x7f3e5, fmi: 31, occurrences: 126 }]);
    expect(codesOf('00008B06C505')).toEqual([{ spn: 0x6068b, fmi: 5, occurrences: 5 }]);
  });
  it('several, without the filling behind them', () => {
    expect(codesOf('04FFA80004018B060502FFFFFFFF').map(({ spn }) => spn)).toEqual([168, 1675]);
  });
  it('no fault is no code, whatever the lamps say', () => {
    expect(codesOf('000000000000FFFF')).toEqual([]);
    expect(codesOf('40FF00000000FFFF')).toEqual([]);
    expect(codesOf('0000FFFFFFFFFFFF')).toEqual([]);
  });
});

describe('a code in a log', () => {
  it('is one row while it is active, and a new one once it was gone for a minute', async () => {
    const active = '18FECA00#04FFA8000401FFFF';
    const none = '18FECA00#00FF00000000FFFF';
    const text = [0, 1, 2, 30].map((s) => logLine(s, active)).join('') + logLine(31, none) + logLine(90, active);
    const { codes, report } = await readBusLog(text);
    expect(brief(codes)).toEqual([
      [1, 168, 4],
      [6, 168, 4],
    ]);
    expect(codes[0]!.row).toMatchObject({ unit: 'T-014', timeUs: BEGIN_S * 1e6, position: '', code: null });
    expect([report.taken, report.setAside]).toEqual([6, 0]);
  });
});

/** Two codes and lamps are ten bytes: two packets. J1939-21: control byte 32, size, packets, FF, group. */
describe('more than one code comes in packets (BAM)', () => {
  const announce = (seconds: number, source = '00') => logLine(seconds, `1CECFF${source}#200A0002FFCAFE00`);
  const first = (seconds: number, source = '00') => logLine(seconds, `1CEBFF${source}#0104FFA80004018B`);
  const second = (seconds: number, source = '00') => logLine(seconds, `1CEBFF${source}#02060502FFFFFFFF`);

  it('put together by sender', async () => {
    const read = await readBusLog(announce(0) + first(0.05) + second(0.1));
    expect(brief(read.codes)).toEqual([
      [3, 168, 4],
      [3, 1675, 5],
    ]);
    expect(read.report.notes).toEqual([]);
  });
  it('two senders at once do not mix', async () => {
    const others = [logLine(0.06, '1CEBFF21#0104FF560004016E'), logLine(0.11, '1CEBFF21#02000302FFFFFFFF')];
    const read = await readBusLog(
      announce(0) + announce(0.01, '21') + first(0.05) + others[0] + second(0.1) + others[1],
    );
    expect(read.codes.map(({ row }) => [row.spn, row.fmi])).toEqual([
      [168, 4],
      [1675, 5],
      [86, 4],
      [110, 3],
    ]);
  });
  it.each([
    ['a packet is missing', announce(0) + second(0.1)],
    ['packets come out of order', announce(0) + second(0.05) + first(0.1)],
    ['a packet comes too late', announce(0) + first(0.05) + second(1)],
    ['the log ends first', announce(0) + first(0.05)],
    ['a new one begins', announce(0) + first(0.05) + announce(0.1) + first(0.15) + second(0.2)],
    ['size and packets do not fit', logLine(0, '1CECFF00#200A0003FFCAFE00') + first(0.05)],
  ])('%s: told, and no code made up', async (what, text) => {
    const { codes, report } = await readBusLog(text);
    expect(codes.length).toBe(what === 'a new one begins' ? 2 : 0);
    expect(report.notes).toEqual(['1 messages of several packets are not whole: packets are missing or out of order']);
    expect(report.setAside).toBe(0);
  });
  it('packets to one receiver are another conversation', async () => {
    const read = await readBusLog(announce(0) + first(0.05) + logLine(0.06, '1CEB2100#02AABBCCDDEEFF00') + second(0.1));
    expect(read.codes.length).toBe(2);
  });
});
