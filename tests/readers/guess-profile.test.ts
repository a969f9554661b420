import { describe, expect, it } from 'vitest';
import { guessProfile } from '../../etl/readers/guess/guess-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { collectFile } from '../support/foreign-file.ts';

const guess = (lines: readonly string[]) => guessProfile(Buffer.from(`${lines.join('\n')}\n`), 'guess');
const ZONE = 'time.zone: in which time zone was it logged? (such as Europe/Berlin)';
const UNIT = 'unit: which unit is it? (unit, or unitFrom.fileName with a pattern such as ^(?<unit>[^_]+)_)';

/** Three rows of a table, its value columns filled by turns. */
const rows = (delimiter: string, ...columns: string[][]) =>
  [0, 1, 2].map((row) => columns.map((column) => column[row % column.length]).join(delimiter));
const UTC = ['2026-03-01T06:00:00Z', '2026-03-01T06:00:01Z', '2026-03-01T06:00:02Z'];
const VOLTS = ['12.61', '12.6', '9.8'];

describe('what the file itself decides is guessed and certain', () => {
  it.each([
    [
      'comma, volts by name',
      ['Vehicle,Timestamp,Battery Voltage', ...rows(',', ['T-1'], UTC, VOLTS)],
      {
        columns: { Vehicle: { field: 'unit' }, Timestamp: { field: 'time' }, 'Battery Voltage': { field: 'volts' } },
        time: { format: 'iso' },
      },
    ],
    [
      'semicolon, decimal comma, mV by value',
      ['Fahrzeug;Zeitstempel;Spannung', ...rows(';', ['T-1'], UTC, ['12610,5', '12600', '9800'])],
      {
        delimiter: ';',
        decimalMark: ',',
        columns: {
          Fahrzeug: { field: 'unit' },
          Zeitstempel: { field: 'time' },
          Spannung: { field: 'volts', unitOfMeasure: 'mV' },
        },
        time: { format: 'iso' },
      },
    ],
    [
      'tab, epoch seconds, units of measure in the header, missing marks',
      [
        'asset\ttime\tVbat (mV)\tAmbient [°F]\tI bat [A]',
        ...rows('\t', ['7'], ['1772345678.5', '1772345679'], ['12000'], ['68', 'n/a'], ['-3', '420']).slice(0, 2),
      ],
      {
        delimiter: '\t',
        missingMarks: ['n/a'],
        columns: {
          asset: { field: 'unit' },
          time: { field: 'time' },
          'Vbat (mV)': { field: 'volts', unitOfMeasure: 'mV' },
          'Ambient [°F]': { field: 'temp_c', unitOfMeasure: '°F' },
          'I bat [A]': { field: 'amps', unitOfMeasure: 'A' },
        },
        time: { format: 'epoch_s' },
      },
    ],
    [
      'seconds from a start above the header, units of measure in a row of their own',
      [
        'Start Time,2026-03-01T06:00:00Z',
        'Vehicle,T-9',
        '',
        'Time,Voltage',
        's,mV',
        '',
        ...rows(',', ['-0.01', '0', '0.01'], ['12600', '12590', '7100']),
      ],
      {
        header: { words: ['Time', 'Voltage'], rowsAfter: 2 },
        columns: {
          Time: { field: 'time', unitOfMeasure: 's' },
          Voltage: { field: 'volts', unitOfMeasure: 'mV' },
        },
        time: { format: 'seconds_from_start', startFrom: { preamble: ['Start Time'] } },
        unitFrom: { preamble: 'Vehicle' },
      },
    ],
    [
      'samples at an interval',
      [
        'Unit: T-9',
        'Start Time: 2026-03-01T06:00:00Z',
        'Sample Interval: 0.005 s',
        'Voltage (V)',
        '12.6',
        '12.5',
        '8.1',
      ],
      {
        header: { words: ['Voltage (V)'] },
        columns: { 'Voltage (V)': { field: 'volts', unitOfMeasure: 'V' } },
        time: {
          format: 'samples_from_start',
          startFrom: { preamble: ['Start Time'] },
          intervalFrom: { preamble: 'Sample Interval' },
        },
        unitFrom: { preamble: 'Unit' },
      },
    ],
    [
      'records: days that tell their order, words for flags',
      [
        'Work Order No|Vehicle|Date Opened|Problem|road_call|Mileage (mi)',
        ...rows('|', ['W1', 'W2', 'W3'], ['T-1'], ['02/28/2026', '03/01/2026'], ['no crank'], ['yes', 'no'], ['100']),
      ],
      {
        delimiter: '|',
        columns: {
          'Work Order No': { field: 'work_order' },
          Vehicle: { field: 'unit' },
          'Date Opened': { field: 'opened' },
          Problem: { field: 'complaint' },
          road_call: { field: 'road_call', values: { yes: '1', no: '0' } },
          'Mileage (mi)': { field: 'odometer_km', unitOfMeasure: 'mi' },
        },
        time: { format: 'MM/dd/yyyy' },
      },
    ],
    [
      'one row a crank',
      [
        'truck,event time,resting voltage,min voltage,crank duration',
        ...rows(',', ['T-1'], UTC, ['12.6'], ['8.2'], ['0.9']),
      ],
      {
        columns: {
          truck: { field: 'unit' },
          'event time': { field: 'time' },
          'resting voltage': { field: 'rest_volts' },
          'min voltage': { field: 'dip_volts' },
          'crank duration': { field: 'crank_seconds' },
        },
        time: { format: 'iso' },
      },
    ],
  ] as [string, string[], object][])('%s', (_, lines, expected) => {
    const found = guess(lines)!;
    expect(found.questions).toEqual([]);
    expect(found.certain).toBe(true);
    expect(found.profile).toEqual({ name: 'guess', ...expected });
    expect(parseProfile(JSON.stringify(found.profile), 'guess')).toEqual(found.profile);
  });
});

describe('what the file leaves open is asked', () => {
  it.each([
    [
      'the zone of a local time',
      ['vehicle,timestamp,volts', ...rows(',', ['T'], ['2026-03-01 06:00:00'], VOLTS)],
      [ZONE],
    ],
    [
      'day and month that no value tells',
      ['vehicle;timestamp;volts', ...rows(';', ['T'], ['03/04/2026 06:00', '05/06/2026 07:00'], VOLTS)],
      ['time.format: is it dd/MM/yyyy or MM/dd/yyyy? No value tells', ZONE],
    ],
    [
      'the zone alone where a value tells',
      ['vehicle;timestamp;volts', ...rows(';', ['T'], ['03.04.2026 06:00:00', '31.03.2026 07:00:00'], VOLTS)],
      [ZONE],
    ],
    [
      'point or comma',
      ['unit;time;volts;amps', ...rows(';', ['T'], UTC, ['12.5'], ['100,5'])],
      ['decimalMark: is it a point (12.5) or a comma (100,5)?'],
    ],
    [
      'thousands or decimals',
      ['unit;time;volts', ...rows(';', ['T'], UTC, ['12,610', '12,598', '9,800'])],
      ['decimalMark: is 12,610 a decimal comma or thousands?'],
    ],
    [
      'volts that are neither V nor mV',
      ['unit,time,volts', ...rows(',', ['T'], UTC, ['126', '125', '98'])],
      ['columns: is volts in V or mV? Its middle value is 125 (column volts)'],
    ],
    [
      'a header that says V over millivolts',
      ['unit,time,Voltage [V]', ...rows(',', ['T'], UTC, ['12600'])],
      ['columns: is volts in V or mV? Its middle value is 12600 (column Voltage [V])'],
    ],
    [
      '°C or °F without a word',
      ['unit,time,volts,temp', ...rows(',', ['T'], UTC, VOLTS, ['20', '21', '19'])],
      ['columns: is temp_c in °C or °F? Its middle value is 20 (column temp)'],
    ],
    [
      '°F in a column of °C',
      ['unit,time,volts,temp (C)', ...rows(',', ['T'], UTC, VOLTS, ['70', '72', '75'])],
      ['columns: is temp_c in °C or °F? Its middle value is 72 (column temp (C))'],
    ],
    [
      'km or mi',
      ['wo,vehicle,opened,odometer', ...rows(',', ['1'], ['T'], ['2026-03-01'], ['100'])],
      ['columns: is odometer_km in km or mi? Its middle value is 100 (column odometer)'],
    ],
    [
      'two voltages',
      ['unit,time,voltage,battery voltage', ...rows(',', ['T'], UTC, VOLTS, VOLTS)],
      ['columns: is volts in voltage or in battery voltage?'],
    ],
    ['the unit', ['time,volts', ...rows(',', UTC, VOLTS)], [UNIT]],
    [
      'a channel of an instrument, its start',
      ['Time;Kanal A', '(s);(mV)', ...rows(';', ['0', '0,1', '0,2'], ['12600'])],
      [
        "columns: is Kanal A the voltage at the battery's terminals?",
        'time.start: when did the recording begin? (an instant, ISO 8601)',
        UNIT,
      ],
    ],
    [
      'seconds or milliseconds from the start',
      ['Unit,T-1', 'Trigger Time,2026-03-01T06:00:00Z', 'Time,Volts', ...rows(',', ['0', '5', '10'], VOLTS)],
      ['columns: is Time in s or ms?'],
    ],
    [
      'seconds or milliseconds of a crank',
      ['unit,time,rest_volts,dip_volts,crank time', ...rows(',', ['T'], UTC, ['12.6'], ['8'], ['900', '850', '1200'])],
      ['columns: is crank_seconds in s or ms? Its middle value is 900 (column crank time)'],
    ],
    [
      'amperes that no starter draws, or a log without a crank',
      ['unit,time,volts,current', ...rows(',', ['T'], UTC, VOLTS, ['1', '2', '3'])],
      ['columns: is amps in A or mA? Its middle value is 2 (column current)'],
    ],
    [
      'a year of two digits',
      ['vehicle;timestamp;volts', ...rows(';', ['T'], ['26.03.01 06:00'], VOLTS)],
      ['time.format: is it dd.MM.yy? In 26.03.01 06:00 the year may also come first', ZONE],
    ],
    [
      'the sense of a current',
      ['unit,time,volts,current (A)', ...rows(',', ['T'], UTC, VOLTS, ['-410', '20', '5'])],
      ['columns: is discharge negative in current (A)? (reversed; its least value is -410)'],
    ],
    [
      'what a table of no kind is',
      ['name,age', ...rows(',', ['Ann'], ['4', '5', '6'])],
      [UNIT, 'columns: which are the columns of a known kind, got unit: nearest is'],
    ],
    [
      'times of a form unknown',
      ['unit,time,volts', ...rows(',', ['T'], ['day 3', 'day 4'], VOLTS)],
      ['time.format: how is a time such as day 3 written?'],
    ],
    [
      'the battery among columns in volts',
      ['unit,time,Starter Battery V,House Battery V', ...rows(',', ['T'], UTC, VOLTS, ['13.1'])],
      [
        "columns: is Starter Battery V the voltage at the battery's terminals?",
        "columns: is House Battery V the voltage at the battery's terminals?",
        'columns: is volts in Starter Battery V or in House Battery V?',
      ],
    ],
    [
      'a channel without a unit of measure',
      ['Unit,T-1', 'Trigger Time,2026-03-01T06:00:00Z', 'Time (s),CH1,', ...rows(',', ['0', '1', '2'], VOLTS, [''])],
      ["columns: is CH1 the voltage at the battery's terminals, and in V (else unitOfMeasure)?"],
    ],
    [
      'thousands in a column of millivolts',
      ['unit;time;voltage (mV)', ...rows(';', ['T'], UTC, ['12.620', '12.618', '8.900'])],
      [
        'columns: is volts in V or mV? Its middle value is 12.618 (column voltage (mV))',
        'decimalMark: does 12.620 of voltage (mV) have decimals, or is it thousands? (then decimalMark ",", groupMark ".")',
      ],
    ],
    [
      'days of a spreadsheet',
      ['unit,time,volts', ...rows(',', ['T'], ['46083.25', '46083.2500001', '46083.2500002'], VOLTS)],
      ['time.format: is 46083.25 days as spreadsheets count them (spreadsheet_days) or seconds_from_start?', ZONE],
    ],
    [
      'months by name, their zone',
      ['unit,time,volts', ...rows(',', ['T'], ['02-Mar-2026 06:00:00', '02-Mar-2026 06:00:01'], VOLTS)],
      [ZONE],
    ],
    [
      'volts behind a divider',
      ['unit,time,voltage', ...rows(',', ['T'], UTC, ['1.26', '1.25', '0.98'])],
      ['columns: is volts behind a divider or a probe? Its middle value is 1.25 (scale, such as 10) (column voltage)'],
    ],
    [
      'a clamp in millivolts',
      ['unit,time,volts,Current (mV)', ...rows(',', ['T'], UTC, VOLTS, ['2', '410', '180'])],
      ['columns: Current (mV) is written in mV: how much A is one? (scale)'],
    ],
    [
      'a clock without a day',
      ['unit,time,volts', ...rows(',', ['T'], ['06:58:50.00', '06:58:50.01', '06:58:50.02'], VOLTS)],
      ['time.start: from when does the clock 06:58:50.00 count? (an instant, ISO 8601; the time of day from midnight)'],
    ],
    [
      'whether a time above the header is the start',
      ['Unit,T-1', 'Export Time,2026-03-05T12:00:00Z', 'Time (s),Volts', ...rows(',', ['0', '0.1', '0.2'], VOLTS)],
      ['time.start: did the recording begin at Export Time, 2026-03-05T12:00:00Z? (startFrom, or start)'],
    ],
    [
      'the start or the trigger, where seconds before it are many',
      ['Unit,T-1', 'Start Time,2026-03-05T12:00:00Z', 'Time (s),Volts', ...rows(',', ['-3', '-2.99', '-2.98'], VOLTS)],
      [
        'time.start: is Start Time the trigger, from which times count? They begin at -3 (else start: the instant of 0)',
      ],
    ],
  ] as [string, string[], string[]][])('%s', (_, lines, questions) => {
    const found = guess(lines)!;
    expect(found.certain).toBe(false);
    expect(found.questions.length).toBe(questions.length);
    for (const [index, question] of questions.entries()) expect(found.questions[index]).toContain(question);
  });
});

it('a date and a clock of twelve hours in two columns that bear the names of fields are one time', () => {
  const clock = ['6:00:00.000 AM', '6:00:00.010 AM', '12:00:00.020 PM'];
  const { profile, questions } = guess(['Unit No,Date,Time,Volts', ...rows(',', ['7'], ['02/13/2026'], clock, VOLTS)])!;
  expect(profile.columns).toMatchObject({
    Date: { field: 'time', part: 'date' },
    Time: { field: 'time', part: 'time' },
  });
  expect(profile.time).toEqual({ format: 'MM/dd/yyyy h:mm:ss.SSS a' });
  expect(questions).toEqual([ZONE]);
});

it('bytes that are no UTF-8 are guessed as windows-1252, and asked', () => {
  const text = 'unit;time;volts;temp (°C)\nT-1;2026-03-01T06:00:00Z;12,5;20\nT-1;2026-03-01T06:00:01Z;12,4;21\n';
  const found = guessProfile(Buffer.from(text, 'latin1'), 'guess')!;
  expect(found.questions).toEqual(['encoding: is it windows-1252? Its bytes are no UTF-8']);
  expect(found.profile.encoding).toBe('windows-1252');
  expect(found.profile.columns!['temp (°C)']).toEqual({ field: 'temp_c', unitOfMeasure: '°C' });
});

it('a text without a table is no guess', () => {
  expect(guess(['a,b,c', '1,2,\0', '1,2,3'])).toBeNull();
  expect(guess(['just words', 'and more words'])).toBeNull();
  expect(guess([''])).toBeNull();
});

it('a certain guess reads the file as it would be in the contract’s columns', async () => {
  const foreign = 'Fahrzeug;Zeitstempel;Spannung\nT-1;2026-03-01T06:00:00Z;12610,5\nT-1;2026-03-01T06:00:01Z;9800\n';
  const plain = 'unit,time,volts\nT-1,2026-03-01T06:00:00Z,12.6105\nT-1,2026-03-01T06:00:01Z,9.8\n';
  const found = guessProfile(Buffer.from(foreign), 'guess')!;
  expect(await collectFile('a.csv', foreign, found.profile)).toEqual(await collectFile('a.csv', plain, null));
});

it.each([' ', '"', '(', ',', '\t', ';"', '1', '1.', ' ,', '#', '"",', 'a ', ': '])(
  'a start of nothing but %j takes no second',
  (piece) => {
    const long = piece.repeat(Math.ceil(65_536 / piece.length)).slice(0, 65_536);
    for (const text of [long, `${long}x`, `x${long}\n1,2\n`, `a,b\n${long}\n1,2\n`]) {
      // The processor's time, not the clock's: other programs may run beside.
      const from = process.cpuUsage();
      const found = guessProfile(Buffer.from(text), 'guess');
      expect(found === null || found.questions.length > 0).toBe(true);
      expect(process.cpuUsage(from).user / 1e6).toBeLessThan(1);
    }
  },
);

it('a start is told from other times above the header', () => {
  const { profile, questions } = guess([
    'Unit,T-1',
    'End Time,2026-03-05T12:00:30Z',
    'Start Time,2026-03-05T12:00:00Z',
    'Time (s),Volts',
    ...rows(',', ['0', '0.1', '0.2'], VOLTS),
  ])!;
  expect(profile.time).toEqual({ format: 'seconds_from_start', startFrom: { preamble: ['Start Time'] } });
  expect(questions).toEqual([]);
});
