import { describe, expect, it } from 'vitest';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import type { CollectedRow } from '../support/collected-rows.ts';
import { collectFile } from '../support/foreign-file.ts';

/** Exports of measuring instruments: words before the table, times from the trigger, millivolts, decimal commas. */
const profile = (parts: object): ImportProfile => parseProfile(JSON.stringify({ name: 'bench', ...parts }), 'p.json');
const short = ({ unit, timeUs, volts, line }: CollectedRow) => [unit, timeUs, volts, line];
const START_US = Date.UTC(2026, 2, 1, 6) * 1000;

describe('seconds from the trigger', () => {
  const EXPORT = [
    'Measurement;cranking',
    'Start Time;01.03.2026 07:00:00,5',
    'Unit;T-014',
    '',
    'Time;Channel A;Channel B',
    '(s);(mV);(mV)',
    '',
    '-0,002;12600;1',
    '0;12598,5;1',
    '1,25E-03;7200;-',
    '0,005;;1',
    '',
  ];
  const parts = {
    delimiter: ';',
    decimalMark: ',',
    missingMarks: ['-'],
    header: { words: ['Time', 'Channel A'], rowsAfter: 2 },
    columns: {
      Time: 'time',
      'Channel A': { field: 'volts', unitOfMeasure: 'mV' },
      'Channel B': { field: 'control_volts', unitOfMeasure: 'mV' },
    },
    time: {
      format: 'seconds_from_start',
      zone: 'Europe/Berlin',
      startFrom: { preamble: ['Start Time'], format: 'dd.MM.yyyy HH:mm:ss.S' },
    },
    unitFrom: { preamble: 'Unit' },
  };
  const from = START_US + 500_000;

  it('start, unit and zone from the lines above the header; negative, exponent, millivolts, lines as in the file', async () => {
    const { report, samples, setAside } = await collectFile('x.csv', EXPORT.join('\n'), profile(parts));
    expect(samples.map(short)).toEqual([
      ['T-014', from - 2000, 12.6, 8],
      ['T-014', from, 12.5985, 9],
      ['T-014', from + 1250, 7.2, 10],
    ]);
    expect(samples.map(({ controlVolts }) => controlVolts)).toEqual([0.001, 0.001, NaN]);
    expect(setAside).toEqual([{ line: 11, field: 'volts', value: '', reason: 'volts requires a number' }]);
    expect([report.kind, report.taken, report.setAside]).toEqual(['waveform', 3, 1]);
  });
  it('the same in UTF-16 with Windows line ends', async () => {
    const text = `\uFEFF${EXPORT.join('\r\n')}`;
    const plain = await collectFile('x.csv', EXPORT.join('\n'), profile(parts));
    expect(await collectFile('x.csv', Buffer.from(text, 'utf16le'), profile(parts))).toEqual(plain);
    expect(await collectFile('x.csv', Buffer.from(text, 'utf16le').swap16(), profile(parts))).toEqual(plain);
  });
  it('milliseconds, and a start given in the profile', async () => {
    const ms = profile({
      ...parts,
      columns: { ...parts.columns, Time: { field: 'time', unitOfMeasure: 'ms' } },
      time: { format: 'seconds_from_start', start: '2026-03-01T06:00:00Z' },
    });
    const { samples } = await collectFile('x.csv', EXPORT.join('\n'), ms);
    expect(samples.map(({ timeUs }) => timeUs)).toEqual([START_US - 2, START_US, START_US + 1]);
  });
  it('what the lines above the header lack is told', async () => {
    const without = (word: string) => EXPORT.map((line) => (line.startsWith(word) ? 'Other;1' : line)).join('\n');
    await expect(collectFile('x.csv', without('Start'), profile(parts))).rejects.toThrow(
      'start of the recording requires a time as the profile says (dd.MM.yyyy HH:mm:ss.S), got no line Start Time (/time/startFrom)',
    );
    await expect(collectFile('x.csv', without('Unit'), profile(parts))).rejects.toThrow(
      'file requires the unit on a line above its header, got no line Unit (/unitFrom/preamble)',
    );
    await expect(collectFile('x.csv', without('Time'), profile(parts))).rejects.toThrow(
      'file requires a header row with Time, Channel A, got none in its first 11 lines',
    );
  });
});

describe('samples at a fixed interval without a time column', () => {
  const text = '"Start Time","2026-03-01T06:00:00Z"\nSample Interval: 0.005 s\n\nVolts\n12.5\n12.4\nbroken\n12.2\n';
  it('are counted by their rows, broken ones included', async () => {
    const { samples, setAside } = await collectFile(
      'T-7.txt',
      text,
      profile({
        columns: { Volts: 'volts' },
        time: {
          format: 'samples_from_start',
          startFrom: { preamble: ['Start Time'] },
          intervalFrom: { preamble: 'Sample Interval' },
        },
        unitFrom: { fileName: '(?<unit>T-\\d+)' },
      }),
    );
    expect(samples.map(short)).toEqual([
      ['T-7', START_US, 12.5, 5],
      ['T-7', START_US + 5000, 12.4, 6],
      ['T-7', START_US + 15_000, 12.2, 8],
    ]);
    expect(setAside).toEqual([{ line: 7, field: 'volts', value: 'broken', reason: 'volts requires a number' }]);
  });
  it('an interval may have its unit of measure in the words before it', async () => {
    const lines = ['Interval (us): 5000', 'Volts', '12.5', '12.4'];
    const time = { format: 'samples_from_start', start: '2026-03-01T06:00:00Z' };
    const read = async (preamble: string) =>
      collectFile(
        'x.txt',
        lines.join('\n'),
        profile({ columns: { Volts: 'volts' }, unit: 'T-1', time: { ...time, intervalFrom: { preamble } } }),
      );
    const { samples } = await read('Interval (us)');
    expect(samples.map(({ timeUs }) => timeUs)).toEqual([START_US, START_US + 5000]);
    // Taken for seconds, no crank would ever be seen.
    await expect(read('Interval')).rejects.toThrow(
      'sample interval requires seconds from 0 to 2, got no line Interval',
    );
  });
  it('an interval that is none is told', async () => {
    await expect(
      collectFile(
        'x.txt',
        text,
        profile({
          columns: { Volts: 'volts' },
          unit: 'T-1',
          time: {
            format: 'samples_from_start',
            start: '2026-03-01T06:00:00Z',
            intervalFrom: { preamble: 'Start Time' },
          },
        }),
      ),
    ).rejects.toThrow('sample interval requires seconds from 0 to 2, got 2026-03-01T06:00:00Z (/time/intervalFrom)');
  });
});

describe('a clock without a day', () => {
  const parts = {
    unit: 'T-9',
    columns: { Clock: { field: 'time', unitOfMeasure: 'h:mm:ss' }, U: 'volts' },
    time: { format: 'seconds_from_start', start: '2026-03-01T00:00:00Z' },
  };
  const seconds = async (clocks: readonly string[]) => {
    const { samples, setAside } = await collectFile(
      'c.csv',
      ['Clock,U', ...clocks.map((c) => `${c},12.5`)].join('\n'),
      profile(parts),
    );
    return [samples.map((row) => (Number(row['timeUs']) - Date.UTC(2026, 2, 1) * 1000) / 1e6), setAside];
  };

  it('counts from midnight, and on into the next day', async () => {
    expect(await seconds(['23:59:58.50', '23:59:59.50', '00:00:00.50', '0:00:01.5'])).toEqual([
      [86398.5, 86399.5, 86400.5, 86401.5],
      [],
    ]);
  });

  it('takes nothing else for a clock', async () => {
    const reason = 'time requires a clock h:mm:ss from the start';
    expect(await seconds(['06:58:59', '12', '6:61:00'])).toEqual([
      [25139],
      [
        { line: 3, field: 'time', value: '12', reason },
        { line: 4, field: 'time', value: '6:61:00', reason },
      ],
    ]);
  });

  it('an elapsed time may pass a day', async () => {
    expect(await seconds(['23:59:59', '24:00:00', '49:00:00'])).toEqual([[86399, 86400, 176400], []]);
  });
});
