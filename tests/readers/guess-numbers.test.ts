import { expect, it } from 'vitest';
import { guessProfile } from '../../etl/readers/guess/guess-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { collectFile } from '../support/foreign-file.ts';

const guess = (lines: readonly string[]) => guessProfile(Buffer.from(`${lines.join('\n')}\n`), 'guess');

/** Three rows of a table, its value columns filled by turns. */
const rows = (delimiter: string, ...columns: string[][]) =>
  [0, 1, 2].map((row) => columns.map((column) => column[row % column.length]).join(delimiter));
const UTC = ['2026-03-01T06:00:00Z', '2026-03-01T06:00:01Z', '2026-03-01T06:00:02Z'];
const VOLTS = ['12.61', '12.6', '9.8'];

it('marks of decimals and of thousands are told by a number that has both', () => {
  const header = 'work_order;unit;opened;parts_cost;odometer_km';
  const orders = (cost: string, odometer: string) =>
    guess([header, ...rows(';', ['1', '2', '3'], ['T'], ['2026-03-01'], [cost], [odometer])])!;
  expect(orders('1.234,50', '12.345').profile).toMatchObject({ decimalMark: ',', groupMark: '.' });
  expect(orders('$1,234.50', '12,345').profile).toMatchObject({ groupMark: ',' });
  expect(orders('$1,234.50', '12,345').profile).not.toHaveProperty('decimalMark');
  expect(orders('1.234,50', '12.345').questions).toEqual([]);
  expect(orders('12', '12.345').questions).toEqual([
    'decimalMark: does 12.345 of odometer_km have decimals, or is it thousands? (then decimalMark ",", groupMark ".")',
  ]);
});

it('a sample rate above the header gives the interval', () => {
  const { profile } = guess([
    'Unit: T-9',
    'Start Time: 2026-03-01T06:00:00Z',
    'Sample rate: 0.5 kHz',
    'Voltage (V)',
    ...VOLTS,
  ])!;
  expect(profile.time).toEqual({
    format: 'samples_from_start',
    startFrom: { preamble: ['Start Time'] },
    intervalSeconds: 0.002,
  });
});

it('a number that stands for no value is a missing mark', () => {
  const { profile } = guess(['unit,time,volts,temp (°C)', ...rows(',', ['T'], UTC, VOLTS, ['5', '-9999', '-273.15'])])!;
  expect(profile.missingMarks).toEqual(['-9999', '-273.15']);
});

it.each([
  ['46083.2908564815', '.', '2026-03-02T05:58:50.000002Z'],
  ['46083,5', ',', '2026-03-02T11:00:00Z'],
] as const)('days of a spreadsheet are read by the zone of their clock: %s', async (days, decimalMark, time) => {
  const text = `unit;time;volts\nT-1;${days};12\n`;
  const profile = parseProfile(
    JSON.stringify({ name: 'x', delimiter: ';', decimalMark, time: { format: 'spreadsheet_days', zone: '+01:00' } }),
    'p.json',
  );
  const plain = `unit,time,volts\nT-1,${time},12\n`;
  expect(await collectFile('a.csv', text, profile)).toEqual(await collectFile('a.csv', plain, null));
});

it('a delimiter at the end of the header or of the rows names no column', async () => {
  const plain = 'unit,time,volts\nT-1,2026-03-01T06:00:00Z,12.5\n';
  const wanted = await collectFile('a.csv', plain, null);
  const profile = parseProfile(JSON.stringify({ name: 'x', columns: { unit: 'unit' } }), 'p.json');
  for (const ends of [
    [',', ''],
    ['', ','],
    [',', ','],
  ]) {
    const text = plain.replace('volts', `volts${ends[0]}`).replace('12.5', `12.5${ends[1]}`);
    expect(await collectFile('a.csv', text, profile)).toEqual(wanted);
  }
});

it('a unit of measure in each cell is told, read, and no other in its place', async () => {
  const header = 'unit;time;voltage;temp';
  const time = '2026-03-01T06:00:00';
  const cells = ['12610 mV;41 °F', '12600mV;41 °F', '9800 mV;41°F'];
  const lines = cells.map((values, at) => `T-1;${time}.${at}Z;${values}`);
  const { profile, questions } = guess([header, ...lines])!;
  expect(questions).toEqual([]);
  expect(profile.columns).toMatchObject({ voltage: { unitOfMeasure: 'mV' }, temp: { unitOfMeasure: '°F' } });
  const plain = ['12.61,5', '12.6,5', '9.8,5'].map((values, at) => `T-1,${time}.${at}Z,${values}`);
  const wanted = await collectFile('a.csv', ['unit,time,volts,temp_c', ...plain, ''].join('\n'), null);
  expect(await collectFile('a.csv', [header, ...lines, ''].join('\n'), profile)).toEqual(wanted);
  const { samples, setAside } = await collectFile('a.csv', `${header}\nT-1;${time}Z;12.6 V;41 °F\n`, profile);
  expect([samples, setAside.map(({ field, value }) => [field, value])]).toEqual([[], [['volts', '12.6 V']]]);
  expect(guess([header, lines[0]!, `T-1;${time}.1Z;12.6 V;41 °F`])!.questions[0]).toBe(
    'columns: voltage has cells in mV and in V: which is it?',
  );
});

it('thousandths of a second after a colon', async () => {
  const text = 'unit,date,time,voltage\nT-1,28.02.2026,06:00:00:005,12\nT-1,28.02.2026,06:00:00:010,12\n';
  const { profile, questions } = guess(text.trimEnd().split('\n'))!;
  expect(profile.time).toEqual({ format: 'dd.MM.yyyy HH:mm:ss.SSS' });
  expect(questions).toEqual(['time.zone: in which time zone was it logged? (such as Europe/Berlin)']);
  const { samples } = await collectFile('a.csv', text, { ...profile, time: { ...profile.time!, zone: 'UTC' } });
  expect(samples.map(({ timeUs }) => Number(timeUs) - Date.UTC(2026, 1, 28, 6) * 1000)).toEqual([5000, 10_000]);
});

it('an exponent is no unit of measure', () => {
  const { profile, questions } = guess([
    'unit,time,voltage',
    ...rows(',', ['T'], UTC, ['1.26E+01', '1.25E+01', '9.8E+00']),
  ])!;
  expect([profile.columns!['voltage'], questions]).toEqual([{ field: 'volts' }, []]);
});

it('kelvins and a half of the day in a column of its own are asked', () => {
  const kelvin = guess(['unit,time,volts,temp', ...rows(',', ['T'], UTC, VOLTS, ['278.15', '278.2'])])!;
  expect(kelvin.questions).toEqual(['columns: is temp_c in K, °F or °C? Its middle value is 278.15 (column temp)']);
  const clock = ['06:00:00', '06:00:01', '06:00:02'];
  const half = guess(['Unit No,Date,Time,AM/PM,Volts', ...rows(',', ['7'], ['02/13/2026'], clock, ['PM'], VOLTS)])!;
  expect(half.questions).toEqual([
    'time: AM/PM holds AM and PM in a column of its own: join it to the time in the file',
    'time.zone: in which time zone was it logged? (such as Europe/Berlin)',
  ]);
});

it('a row of units of measure may have dashes where a column has none', async () => {
  const text = ['Voertuig;Time;Spanning;Temp', '-;-;mV;°F', ...rows(';', ['T'], UTC, ['12610'], ['41']), ''];
  const { profile, questions } = guess(text.slice(0, -1))!;
  expect([profile.header, questions]).toEqual([{ rowsAfter: 1 }, []]);
  const plain = ['unit,time,volts,temp_c', '', ...rows(',', ['T'], UTC, ['12.61'], ['5']), ''].join('\n');
  expect(await collectFile('a.csv', text.join('\n'), profile)).toEqual(await collectFile('a.csv', plain, null));
});

it('GMT is UTC', async () => {
  const header = 'Vehicle,Timestamp,Voltage';
  const lines = UTC.map((time) => `T,${time.replace('T', ' ').replace('Z', ' GMT')},12.5`);
  const { profile, questions } = guess([header, ...lines])!;
  expect([profile.time, questions]).toEqual([{ format: 'iso' }, []]);
  const { samples } = await collectFile('a.csv', [header, ...lines, ''].join('\n'), profile);
  expect(samples.map(({ timeUs }) => new Date(Number(timeUs) / 1000).toISOString().replace('.000', ''))).toEqual(UTC);
});
