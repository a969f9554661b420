import { writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPaths, type LoadReport } from '../../etl/load.ts';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { storeDump } from '../support/store-dump.ts';
import { NOW_US, storeFolder, withStore } from '../support/store-folder.ts';

let folder: Awaited<ReturnType<typeof storeFolder>>;
beforeAll(async () => {
  folder = await storeFolder();
});
afterAll(async () => folder.remove());

const profile = (parts: object) => parseProfile(JSON.stringify({ name: 'yard', ...parts }), 'p.json');
const BERLIN = {
  delimiter: ';',
  decimalMark: ',',
  columns: {
    Fahrzeug: 'unit',
    Zeit: 'time',
    Ruhe: { field: 'rest_volts', unitOfMeasure: 'mV' },
    Minimum: { field: 'dip_volts', unitOfMeasure: 'mV' },
    Dauer: { field: 'crank_seconds', unitOfMeasure: 'ms' },
  },
  time: { format: 'dd.MM.yyyy HH:mm:ss', zone: 'Europe/Berlin' },
};
const FOREIGN = [
  'Fahrzeug;Zeit;Ruhe;Minimum;Dauer',
  ...Array.from(
    { length: 25 },
    (_, day) => `T-1;${String(day + 1).padStart(2, '0')}.02.2026 07:00:00;12600;8100,5;900`,
  ),
  'T-1;26.02.2026 07:00:00;12600;niedrig;900',
];
const PLAIN = [
  'unit,time,rest_volts,dip_volts,crank_seconds',
  ...Array.from(
    { length: 25 },
    (_, day) => `T-1,2026-02-${String(day + 1).padStart(2, '0')}T06:00:00Z,12.6,8.1005,0.9`,
  ),
];

async function written(name: string, lines: readonly string[]): Promise<string> {
  await writeFile(folder.path(name), `${lines.join('\n')}\n`);
  return folder.path(name);
}

async function load(store: string, files: string[], by: ImportProfile | null): Promise<LoadReport> {
  return withStore(folder.path(store), async (each) => loadPaths(each, files, { nowUs: NOW_US, profile: by }));
}

async function cranks(name: string): Promise<unknown> {
  return withStore(folder.path(name), async (store) => {
    const table = await store.finished((await store.engines())[0]!);
    const { timeUs, restVolts, dipVolts, crankSeconds } = table!.columns;
    return [timeUs, restVolts, dipVolts, crankSeconds].map((column) => [...column]);
  });
}

describe('a file loaded by a profile', () => {
  it('gives the cranks of the same file in the columns of its kind', async () => {
    const report = await load('foreign.sqlite', [await written('foreign.csv', FOREIGN)], profile(BERLIN));
    await load('plain.sqlite', [await written('plain.csv', PLAIN)], null);
    expect(await cranks('foreign.sqlite')).toEqual(await cranks('plain.sqlite'));
    expect([report.taken, report.setAside]).toEqual([25, 1]);
    expect(report.files[0]!.examples[0]).toMatchObject({ line: 27, field: 'dip_volts', value: 'niedrig' });
  });

  it('loaded twice changes nothing, whatever the name of the profile', async () => {
    const before = await withStore(folder.path('foreign.sqlite'), storeDump);
    const again = await load('foreign.sqlite', [folder.path('foreign.csv')], profile({ ...BERLIN, name: 'other' }));
    expect(again.files[0]!.result).toBe('already');
    expect(await withStore(folder.path('foreign.sqlite'), storeDump)).toEqual(before);
  });

  it('with another profile replaces its rows', async () => {
    const utc = profile({ ...BERLIN, time: { ...BERLIN.time, zone: 'UTC' } });
    expect((await load('foreign.sqlite', [folder.path('foreign.csv')], utc)).files[0]!.result).toBe('loaded');
    const [times] = (await cranks('foreign.sqlite')) as number[][];
    const [plain] = (await cranks('plain.sqlite')) as number[][];
    expect(times).toEqual(plain!.map((us) => us + 3600e6));
    await withStore(folder.path('foreign.sqlite'), async (store) => {
      const imports = await store.imports();
      expect(imports.map(({ taken, setAside }) => [taken, setAside])).toEqual([[25, 1]]);
      expect(imports[0]!.profile).toMatch(/^[0-9a-f]{64}$/);
    });
  });

  it('without the profile is refused, and says what it seems to be', async () => {
    const report = await load('none.sqlite', [folder.path('foreign.csv')], null);
    expect(report.files[0]).toMatchObject({ result: 'unreadable', taken: 0 });
    expect(report.files[0]!.examples[0]!.reason).toContain('it seems to have Fahrzeug as unit, Zeit as time');
    expect(report.files[0]!.examples[0]!.reason).toContain('load --dry-run shows how a profile would read it');
  });

  it('beside files of the contract in one folder', async () => {
    const files = [folder.path('foreign.csv'), folder.path('plain.csv')];
    const report = await load('both.sqlite', files, profile(BERLIN));
    expect(report.files.map(({ result, notes }) => [result, notes])).toEqual([
      ['loaded', []],
      ['loaded', ['the profile does not fit this file: read by its own columns']],
    ]);
    const byProfile = await withStore(folder.path('both.sqlite'), async (store) =>
      (await store.imports()).map((each) => each.profile !== ''),
    );
    expect(byProfile.filter((each) => each)).toEqual([true]);
  });
});

describe('a unit of measure that looks like another', () => {
  const row = (day: number, volts: number, temp: number) =>
    `T-1,2026-02-${String(day).padStart(2, '0')}T06:00:00Z,${volts},8.1,0.9,${temp}`;
  const HEADER = 'unit,time,rest_volts,dip_volts,crank_seconds,temp_c';
  const days = Array.from({ length: 25 }, (_, day) => day + 1);
  it('Fahrenheit in a column of °C is told', async () => {
    const file = await written('warm.csv', [HEADER, ...days.map((day) => row(day, 12.6, 72))]);
    const report = await load('warm.sqlite', [file], null);
    expect(report.files[0]!.notes).toEqual([
      'temp_c looks like °F (72 in the middle): a profile with unitOfMeasure °F converts it',
    ]);
    const mild = await written('mild.csv', [HEADER, ...days.map((day) => row(day, 12.6, 22))]);
    expect((await load('mild.sqlite', [mild], null)).files[0]!.notes).toEqual([]);
  });
  it('millivolts in a column of volts are set aside and told', async () => {
    const file = await written('millivolts.csv', [HEADER, ...days.map((day) => row(day, 12600, 20))]);
    const report = await load('millivolts.sqlite', [file], null);
    expect([report.taken, report.setAside]).toEqual([0, 25]);
    expect(report.files[0]!.notes).toEqual([
      'most rows cannot be used as they stand: load --dry-run shows how a profile would read them',
      'volts look like mV: a profile with unitOfMeasure mV converts them',
    ]);
  });
});
