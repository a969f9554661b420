import { assert, asyncProperty, array, constantFrom, nat, oneof, string, stringMatching } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CandumpLine } from '../../etl/readers/can/candump-line.ts';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { canShape } from '../../etl/readers/can/can-shape.ts';
import { collectInto, cutAt } from '../support/collected-rows.ts';
import { BEGIN_S, counts, logLine, readBusLog, whyNotRead } from '../support/bus-log.ts';

/** What one line says, in words. */
function line(text: string): string {
  const scanner = new CandumpLine();
  const bytes = Buffer.from(`${text}\n`, 'latin1');
  expect(scanner.read(bytes, 0)).toBe(bytes.length - 1);
  const { kind, id, extended, length, data, stamp, timeUs, reason } = scanner;
  if (kind === 'bad') return reason;
  if (kind === 'blank' || kind === 'dropped') return kind;
  const hex = Buffer.from(data.subarray(0, length)).toString('hex').toUpperCase();
  const name = id
    .toString(16)
    .toUpperCase()
    .padStart(extended ? 8 : 3, '0');
  return `${kind} ${stamp === 'none' ? '-' : timeUs} ${name} ${hex}`.trimEnd();
}

const US = '1700000000123456';

describe('the log form (candump -L)', () => {
  it('29 and 11 bits, no data, lower case', () => {
    expect(line('(1700000000.123456) can0 18FEF700#FFFFFFFF1901FFFF')).toBe(`frame ${US} 18FEF700 FFFFFFFF1901FFFF`);
    expect(line('(1700000000.123456) vcan1 7e8#0441423138')).toBe(`frame ${US} 7E8 0441423138`);
    expect(line('(1700000000.123456) can0 123#')).toBe(`frame ${US} 123`);
  });
  it('marks of direction, CRLF, a raw length', () => {
    expect(line('(1700000000.123456) can0 123#1122 R\r')).toBe(`frame ${US} 123 1122`);
    expect(line('(1700000000.123456) can0 123#1122 T')).toBe(`frame ${US} 123 1122`);
    expect(line('(1700000000.123456) can0 123#1122334455667788_B')).toBe(`frame ${US} 123 1122334455667788`);
  });
  it('FD frames of up to 64 bytes, remote frames, error frames', () => {
    expect(line('(1700000000.123456) can0 18FEF700##1112233')).toBe(`frame ${US} 18FEF700 112233`);
    expect(line(`(1700000000.123456) can0 123##0${'AB'.repeat(64)}`)).toBe(`frame ${US} 123 ${'AB'.repeat(64)}`);
    expect(line('(1700000000.123456) can0 123#R')).toBe(`remote ${US} 123`);
    expect(line('(1700000000.123456) can0 123#R8')).toBe(`remote ${US} 123`);
    expect(line('(1700000000.123456) can0 20000004#0001000000000000')).toContain('error');
  });
  it('nanoseconds are cut to microseconds, milliseconds are whole', () => {
    expect(line('(1700000000.123456789) can0 123#')).toBe(`frame ${US} 123`);
    expect(line('(1700000000.5) can0 123#')).toBe('frame 1700000000500000 123');
  });
});

describe('the screen form', () => {
  it('with absolute time stamps, text behind, either direction', () => {
    const bytes = 'FF FF FF FF 19 01 FF FF';
    const read = `frame ${US} 18FEF700 FFFFFFFF1901FFFF`;
    expect(line(` (1700000000.123456)  can0  18FEF700   [8]  ${bytes}`)).toBe(read);
    expect(line(` (1700000000.123456)  can0  18FEF700   [8]  ${bytes}   '......."'`)).toBe(read);
    expect(line(` (1700000000.123456)  can0  RX - -  18FEF700   [8]  ${bytes}`)).toBe(read);
    expect(line(` (1700000000.123456)  can0  TX B E  18FEF700  [08]  ${bytes}`)).toBe(read);
  });
  it('with a date; without any time stamp', () => {
    expect(line(' (2023-11-14 22:13:20.123456)  can0  123   [2]  11 22')).toBe(`frame ${US} 123 1122`);
    expect(line('  can0  123   [2]  11 22')).toBe('frame - 123 1122');
  });
  it('remote, error and empty frames', () => {
    expect(line(' (1700000000.123456)  can0  123   [4]  remote request')).toBe(`remote ${US} 123`);
    expect(line(' (1700000000.123456)  can0  20000080   [8]  00 00 00 00 00 00 00 00   ERRORFRAME')).toContain('error');
    expect(line(' (1700000000.123456)  can0  123   [0]')).toBe(`frame ${US} 123`);
  });
});

describe('other lines', () => {
  it('lost frames, blank lines', () => {
    expect(line("DROPCOUNT: dropped 12 CAN frames on 'can0' socket (total drops 12)")).toBe('dropped');
    expect(line(' \t\r')).toBe('blank');
  });
  it.each([
    ['(1700000000.123456) can0 18FEF700#FFF', 'data requires two digits a byte'],
    ['(1700000000.123456) can0 123#11 22', 'line requires a CAN frame as candump writes it'],
    [`(1700000000.123456) can0 123##0${'AB'.repeat(65)}`, 'data requires at most 64 bytes'],
    ['(1700000000.123456) can0 123   [8]  11 22', 'data requires as many bytes as the brackets say'],
    ['(1700000000.123456) can0 FFF#00', 'CAN id requires at most 7FF with three digits, 1FFFFFFF with eight'],
    ['(1700000000.123456) can0 FFFFFFFF#00', 'CAN id requires at most 7FF with three digits, 1FFFFFFF with eight'],
    ['(1700000000.123456) can0 1234#00', 'line requires a CAN frame as candump writes it'],
    ['(1700000000) can0 123#00', 'time requires (seconds.fraction) as candump writes it'],
    ['(2023-13-14 22:13:20.123456) can0 123#00', 'time requires (seconds.fraction) as candump writes it'],
    ['(', 'time requires (seconds.fraction) as candump writes it'],
    ['(1700000000.123456) can0', 'line requires a CAN frame as candump writes it'],
    ['Bus started', 'line requires a CAN frame as candump writes it'],
  ])('%s', (text, reason) => {
    expect(line(text)).toBe(reason);
  });
});

const VOLTS = '18FEF700#FFFFFFFF1901FFFF';
const profile = (
  time: Partial<NonNullable<ImportProfile['time']>>,
  more: Partial<ImportProfile> = {},
): ImportProfile => ({ name: 'bus', time: { format: 'seconds_from_start', ...time }, ...more });

describe('the clock of a log', () => {
  it('not set, or ahead: set aside as in every other file', async () => {
    const text = `(0000000012.500000) can0 ${VOLTS}\n${logLine(0, VOLTS)}${logLine(200_000, VOLTS)}`;
    const { report, setAside } = await readBusLog(text, { nowUs: BEGIN_S * 1e6 });
    expect(counts(report)).toEqual([1, 2]);
    expect(setAside.map(({ line: at, field, reason }) => [at, field, reason])).toEqual([
      [1, 'time', 'time requires a date from 1990 on: the clock was not set'],
      [3, 'time', 'time requires a date not after today: the clock is ahead'],
    ]);
  });
  const counted = ` (000.000000)  can0  18FEF700   [8]  FF FF FF FF 19 01 FF FF\n (001.500000)  can0  18FEF700   [8]  FF FF FF FF 19 01 FF FF\n`;
  it('seconds from the start need the start', async () => {
    expect(await whyNotRead(counted)).toBe(
      'CAN log requires the time of day, got seconds from the start or the frame before: record with candump -L or candump -ta, or give time.start in an import profile',
    );
    const { signals } = await readBusLog(counted, { profile: profile({ start: '2026-03-01T06:00:00Z' }) });
    expect(signals.map(({ timeUs }) => timeUs)).toEqual([BEGIN_S * 1e6, BEGIN_S * 1e6 + 1.5e6]);
  });
  it('seconds from the frame before are told by running back', async () => {
    const delta = counted + counted;
    const { report, setAside } = await readBusLog(delta, { profile: profile({ start: '2026-03-01T06:00:00Z' }) });
    expect(counts(report)).toEqual([3, 1]);
    expect(setAside[0]!.reason).toBe('time requires seconds from the start (candump -tz), got ones that run back');
  });
  it('a date needs a zone', async () => {
    const local = ' (2026-03-01 07:00:00.000000)  can0  18FEF700   [8]  FF FF FF FF 19 01 FF FF\n';
    expect(await whyNotRead(local)).toContain('CAN log requires a time zone, got dates without one');
    const { signals } = await readBusLog(local, { profile: profile({ format: 'iso', zone: 'Europe/Berlin' }) });
    expect(signals.map(({ timeUs }) => timeUs)).toEqual([BEGIN_S * 1e6]);
  });
  it('no time stamps: refused with the remedy', async () => {
    expect(await whyNotRead('  can0  123   [2]  11 22\n')).toBe(
      'CAN log requires time stamps, got none: record with candump -L or candump -ta',
    );
  });
});

describe('the unit of a log', () => {
  const text = logLine(0, VOLTS);
  const unitOf = async (path: string, given?: ImportProfile) =>
    (await readBusLog(text, given === undefined ? {} : { profile: given }, path)).signals[0]!['unit'];
  it('is the name of the file up to the first point', async () => {
    expect(await unitOf('/logs/T-014.log')).toBe('T-014');
    expect(await unitOf('T-014.2024-03-01.log.gz')).toBe('T-014');
  });
  it('or what the profile says', async () => {
    expect(await unitOf('x.log', profile({}, { unit: 'T-9' }))).toBe('T-9');
    expect(await unitOf('run-7_T-8.log', profile({}, { unitFrom: { fileName: '_(?<unit>[^.]+)' } }))).toBe('T-8');
  });
  it('a name that candump made up tells none', async () => {
    const refused = 'CAN log requires the unit as the first part of its name (T-014.log) or in an import profile, got ';
    expect(await whyNotRead(text, {}, 'candump-2026-03-01_060000.log')).toBe(`${refused}candump-2026-03-01_060000.log`);
    expect(await whyNotRead(text, {}, '.log')).toBe(`${refused}.log`);
  });
});

describe('a log as a whole', () => {
  it('text below an error frame belongs to it; lost frames are told', async () => {
    const text =
      logLine(0, VOLTS) +
      '  can0  20000004   [8]  00 01 00 00 00 00 00 00   ERRORFRAME\n\tcontroller-problem{rx-overflow-rx}\n' +
      "DROPCOUNT: dropped 3 CAN frames on 'can0' socket (total drops 3)\n\nwhat\n";
    const { report, setAside } = await readBusLog(text);
    expect(counts(report)).toEqual([4, 1]);
    expect(setAside).toEqual([
      { line: 6, field: '', value: 'what', reason: 'line requires a CAN frame as candump writes it' },
    ]);
    expect(report.notes).toEqual(['the logger lost frames in 1 places (DROPCOUNT)']);
  });
  it('a line without end is set aside whole, in bounded memory', async () => {
    const bytes = Buffer.from(`${logLine(0, VOLTS)}${'A'.repeat(3 << 20)}\n${logLine(1, VOLTS)}`);
    const { report, setAside, signals } = await readBusLog(bytes.toString('latin1'));
    expect(counts(report)).toEqual([2, 1]);
    expect(setAside[0]).toMatchObject({ line: 2, reason: 'line requires at most 64 KiB' });
    expect(setAside[0]!.value.length).toBeLessThanOrEqual(201);
    expect(signals.map(({ line: at }) => at)).toEqual([1, 3]);
  });
  it('a thousand bad lines are told in batches', async () => {
    const { report, largestSetAside } = await readBusLog(logLine(0, VOLTS).repeat(300) + 'x\n'.repeat(5000));
    expect([counts(report), largestSetAside]).toEqual([[300, 5000], 1000]);
  });
});

const pieces = oneof(
  constantFrom(
    logLine(0, VOLTS).trimEnd(),
    '(1700000000.123456) can0 7E8#0441423138AAAAAA',
    ' (1700000000.123456)  can0  123   [2]  11 22',
    '(1700000000.123456) can0 1CECFF00#200A0002FFCAFE00',
    '(1700000000.123456) can0 1CEBFF00#0104FFA80004018B',
    '(1700000000.123456) can0 7E8#100A430405620512',
    '',
  ),
  stringMatching(/^\(\d{1,12}\.\d{0,7}\) can\d [0-9A-F]{2,9}#{1,2}R?[0-9A-F]{0,20}$/),
  string({ maxLength: 40 }).map((text) => text.replace(/[\r\n]/g, ' ')),
);

describe('random lines', () => {
  it('never throw, and each is used or set aside, wherever the file is cut', async () => {
    await assert(
      asyncProperty(array(pieces, { maxLength: 60 }), array(nat(4000), { maxLength: 6 }), async (lines, places) => {
        const bytes = Buffer.from(logLine(0, VOLTS).repeat(70) + lines.join('\n'), 'latin1');
        const sniffed = await canShape.readerOf({ path: 'T-1.log', bytes });
        if ('unrecognised' in sniffed) throw new Error(sniffed.unrecognised);
        const read = async (cuts: readonly number[]) =>
          collectInto((sink) => sniffed.reader.read({ path: 'T-1.log', bytes: cutAt(bytes, cuts) }, sink));
        const { report, setAside, signals } = await read(places);
        const filled = bytes
          .toString('latin1')
          .split('\n')
          .filter((text) => !/^[ \t\r]*$/.test(text));
        expect(report.taken + report.setAside).toBe(filled.length);
        expect(setAside.length).toBe(report.setAside);
        for (const { reason } of setAside) expect(reason).toMatch(/ requires /);
        expect((await read([])).signals).toEqual(signals);
      }),
      { numRuns: 200 },
    );
  });
});
