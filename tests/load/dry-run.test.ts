import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dryRun } from '../../etl/loading/dry-run.ts';
import { dateUs } from '../../etl/model/time.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';

const nowUs = dateUs('2026-11-20');
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'dry-run-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function written(name: string, content: string): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, content);
  return path;
}

it('shows the first ten rows in the contract’s names, and counts all', async () => {
  const rows = Array.from({ length: 30 }, (_, at) => `T-1,2026-03-01T06:00:${String(at).padStart(2, '0')}Z,12.5,${at}`);
  const path = await written('plain.csv', `unit,time,volts,temp_c\n${rows.join('\n')}\nT-1,x,1,\n`);
  const [file] = await dryRun([path], { nowUs });
  expect(file).toMatchObject({
    readBy: 'columns',
    refusal: null,
    kind: 'waveform',
    taken: 30,
    setAside: 1,
    whole: true,
    reasons: [{ reason: 'time requires ISO 8601 with zone, or epoch milliseconds', rows: 1 }],
  });
  expect(file!.rows.length).toBe(10);
  expect(file!.rows[3]).toEqual({
    line: 5,
    fields: { unit: 'T-1', time: '2026-03-01T06:00:03Z', volts: '12.5', temp_c: '3' },
  });
});

it('shows records with their dates, money and flags', async () => {
  const path = await written(
    'orders.csv',
    'work_order,unit,opened,parts_cost,road_call,odometer_km\nW-1,T-1,2026-03-01,12.50,1,\n',
  );
  const [file] = await dryRun([path], { nowUs });
  expect(file!.rows[0]!.fields).toMatchObject({
    work_order: 'W-1',
    opened: '2026-03-01T00:00:00Z',
    parts_cost: '12.5',
    road_call: '1',
    odometer_km: '',
  });
});

it('reads a foreign file by its guess, says what is open, and refuses it all the same', async () => {
  const path = await written(
    'foreign.csv',
    'Fahrzeug;Zeit;Spannung\nT-1;2026-03-01 06:00:00;12610,5\nT-1;2026-03-01 06:00:01;9800\n',
  );
  const [file] = await dryRun([path], { nowUs });
  expect(file).toMatchObject({
    readBy: 'guess',
    kind: 'waveform',
    taken: 2,
    questions: ['time.zone: in which time zone was it logged? (such as Europe/Berlin)'],
    notes: ['shown as if its clock were UTC'],
  });
  expect(file!.refusal).toContain('it seems to have Fahrzeug as unit');
  expect(file!.profile!.time).toEqual({ format: 'iso' });
  expect(file!.rows[0]!.fields).toEqual({ unit: 'T-1', time: '2026-03-01T06:00:00Z', volts: '12.6105' });

  const profile = parseProfile(JSON.stringify({ ...file!.profile, time: { format: 'iso', zone: 'Asia/Tokyo' } }), 'p');
  const [given] = await dryRun([path], { nowUs, profile });
  expect(given).toMatchObject({ readBy: 'profile', refusal: null, taken: 2, questions: [], notes: [] });
  expect(given!.rows[0]!.fields['time']).toBe('2026-02-28T21:00:00Z');
});

it('shows rows of a recording that names neither its unit nor its zone, and says as what', async () => {
  const path = await written(
    'recording.csv',
    'Start time;2026-03-05 06:12:00\n\nTime;Channel A\n(s);(mV)\n-0,5;12580,4\n0;7495,9\n0,5;10100\n',
  );
  const [file] = await dryRun([path], { nowUs });
  expect(file!.rows.map(({ line, fields }) => [line, fields['unit'], fields['time'], fields['volts']])).toEqual([
    [5, '?', '2026-03-05T06:11:59.5Z', '12.5804'],
    [6, '?', '2026-03-05T06:12:00Z', '7.4959'],
    [7, '?', '2026-03-05T06:12:00.5Z', '10.1'],
  ]);
  expect(file!.notes.slice(0, 2)).toEqual(['shown as if its clock were UTC', 'shown with ? as its unit']);
  expect(file!.profile).not.toHaveProperty('unit');
});

it('shows the rows of a recording whose start is open as if it had begun at another time', async () => {
  const path = await written('scope.csv', 'Time;Kanal A\n(s);(mV)\n0;12600\n0,1;12500\n0,2;7000\n');
  const [file] = await dryRun([path], { nowUs });
  expect(file).toMatchObject({ readBy: 'guess', kind: 'waveform', taken: 3 });
  expect(file!.rows.map(({ fields }) => [fields['time'], fields['volts']])).toEqual([
    ['2000-01-01T00:00:00Z', '12.6'],
    ['2000-01-01T00:00:00.1Z', '12.5'],
    ['2000-01-01T00:00:00.2Z', '7'],
  ]);
  expect(file!.notes).toEqual(['shown as if it had begun at 2000-01-01T00:00:00Z', 'shown with ? as its unit']);
  expect(file!.profile!.time).toEqual({ format: 'seconds_from_start' });
});

it('shows a guess that is no whole profile without rows', async () => {
  const path = await written('late.csv', 'unit,Time,Volts\nT,05:10,12.6\nT,05:11,12.5\nT,05:12,7\n');
  const [file] = await dryRun([path], { nowUs });
  expect(file).toMatchObject({ readBy: 'guess', rows: [], taken: 0 });
  expect(file!.questions.join()).toContain('time.format: how is a time such as 05:10 written?');
});

describe('a file with the fields of a kind whose rows cannot be used', () => {
  const rowsOf = (times: readonly string[], end = '') => times.map((time) => `T-1,${time},12.5${end}`).join('\n');
  it.each([
    ['epoch seconds', ['1772345678.5', '1772345679'], '', { format: 'epoch_s' }, []],
    [
      'a day first',
      ['13.02.2026 06:00:00', '13.02.2026 06:00:01'],
      '',
      { format: 'dd.MM.yyyy HH:mm:ss' },
      ['time.zone'],
    ],
    ['no zone', ['2026-02-13 06:00:00', '2026-02-13 06:00:01'], '', { format: 'iso' }, ['time.zone']],
    [
      'a delimiter at the end of each row',
      ['2026-02-13T06:00:00Z', '2026-02-13T06:00:01Z'],
      ',',
      { format: 'iso' },
      [],
    ],
  ] as const)('is read by a guess: %s', async (name, times, end, time, asked) => {
    const path = await written(`${name}.csv`, `unit,time,volts\n${rowsOf(times, end)}\n`);
    const [file] = await dryRun([path], { nowUs });
    expect(file).toMatchObject({ readBy: 'guess', kind: 'waveform', taken: 2, setAside: 0, profile: { time } });
    expect(file!.questions.map((question) => question.split(':')[0])).toEqual(asked);
    expect(file!.refusal).toContain('file requires rows that can be used, got 2 of 2 that cannot: ');
  });

  it('stays as it is where no profile would help', async () => {
    const path = await written(
      'unset.csv',
      `unit,time,volts\n${rowsOf(['1970-01-01T00:00:01Z', '1970-01-01T00:00:02Z'])}\n`,
    );
    const [file] = await dryRun([path], { nowUs });
    expect(file).toMatchObject({ readBy: 'columns', taken: 0, setAside: 2, refusal: null, notes: [] });
  });
});

it('says what cannot be read, and goes on', async () => {
  const path = await written('broken.bin', '\u0001\u0000\u0002');
  const files = await dryRun([path, join(folder, 'plain.csv')], { nowUs });
  expect(files.map(({ readBy }) => readBy)).toEqual(['nothing', 'columns']);
  expect(files[0]!.refusal).toBe('file requires a table as text, got binary data');
});

it('reads only the beginning of a long text, up to the end of a line', async () => {
  const rows = Array.from({ length: 1000 }, (_, at) => `T-1,${1772345678000 + at},12.5`);
  const text = `unit,time,volts\n${rows.join('\n')}\n`;
  for (const [name, content] of [
    ['long.csv', text],
    ['long-utf-16.csv', Buffer.from(text, 'utf16le').toString('latin1')],
  ] as const) {
    const path = join(folder, name);
    await writeFile(path, content, 'latin1');
    const [file] = await dryRun([path], { nowUs, mostBytes: 10_000 });
    expect(file!.whole).toBe(false);
    expect(file!.setAside).toBe(0);
    expect(file!.taken).toBeGreaterThan(100);
    expect(file!.taken).toBeLessThan(1000);
  }
});

it('stores nothing: no file appears', async () => {
  const before = (await readdir(folder)).sort();
  await dryRun([folder], { nowUs });
  expect((await readdir(folder)).sort()).toEqual(before);
});

it('thousandths written without their zeros are told: the rows that seem in order are wrong too', async () => {
  const rows = Array.from({ length: 1000 }, (_, at) => [Math.floor(at / 200), 5 * (at % 200)] as const);
  const text = (millis: (value: number) => string) =>
    ['unit,time,volts', ...rows.map(([s, ms]) => `T-1,2026-03-01T06:00:0${s}.${millis(ms)}Z,12.5`), ''].join('\n');
  const notesOf = async (name: string, content: string) =>
    (await dryRun([await written(name, content)], { nowUs }))[0]!.notes;
  const wrong = await notesOf('unpadded.csv', text(String));
  expect(wrong[0]).toContain('are fractions of a second written without their zeros (.5 for .005)?');
  expect(
    await notesOf(
      'padded.csv',
      text((value) => String(value).padStart(3, '0')),
    ),
  ).toEqual([]);
});
