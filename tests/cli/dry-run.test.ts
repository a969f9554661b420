import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** The program as built, as a user calls it. */
const CLI = join(import.meta.dirname, '../../.build/program/cli.js');
const folder = mkdtempSync(join(tmpdir(), 'cli-dry-run-'));
const store = join(folder, 'store.sqlite');
const run = (words: string[]) => {
  const ran = spawnSync(process.execPath, [CLI, ...words], {
    encoding: 'utf8',
    env: { ...process.env, XDG_DATA_HOME: folder, CRANKLEDGER_STORE: store },
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
};
const file = (name: string, lines: string[]) => {
  const path = join(folder, name);
  writeFileSync(path, `${lines.join('\n')}\n`);
  return path;
};

const foreign = file('foreign.csv', [
  'Fahrzeug;Zeit;Ruhespannung;Minimalspannung;Startdauer;Fahrer',
  'T-1;2026-02-01 07:00:00;12600;8100,5;0,9;Ann',
  'T-1;2026-02-02 07:00:00;12600;niedrig;0,9;Ann',
  'T-1;2026-02-03 07:00:00;12600;8100,5;0,9;Ann',
]);

describe('a foreign file, from a dry run to the store', () => {
  it('load without a profile refuses it and names the way', () => {
    const { code, out, err } = run(['load', foreign]);
    expect(code).toBe(2);
    expect(out).toContain('it seems to have Fahrzeug as unit, Zeit as time, Ruhespannung as rest_volts');
    expect(err).toContain('load requires a file that can be read, got 1 that cannot (PATH)');
  });

  const guess = join(folder, 'guess.json');
  it('a dry run shows the guess, what is open, the rows and what would be set aside, and stores nothing', () => {
    const { code, out, err } = run(['load', foreign, '--dry-run', '--profile-out', guess, '--store', `${store}-2`]);
    expect(code).toBe(1);
    for (const line of [
      'read by a guess, which a load never does as cranks (crank-csv)',
      'Ruhespannung → rest_volts in mV, first 12.6',
      'open: time.zone: in which time zone was it logged?',
      'shown as if its clock were UTC',
      '2 rows would be taken, 1 set aside',
      '1 × dip_volts requires a number (mV)',
      'line 3, dip_volts "niedrig"',
      'columns kept aside: Fahrer',
      '2 rows would be taken, 1 set aside, 1 file; nothing was stored',
    ])
      expect(out).toContain(line);
    expect(out).toMatch(/^ {2}line {2}unit {2}time +rest_volts {2}dip_volts {2}crank_seconds$/m);
    expect(out).toMatch(/^ {2}2 {5}T-1 {3}2026-02-01T07:00:00Z {2}12\.6 +8\.1005 +0\.9$/m);
    expect(err).toContain(`the guess for ${foreign} was written to ${guess}`);
    expect(existsSync(`${store}-2`)).toBe(false);
  });

  it('the guess is not written over a file that is there', () => {
    const { code, err } = run(['load', foreign, '--dry-run', '--profile-out', guess]);
    expect([code, err]).toEqual([
      2,
      `--profile-out requires a new file, got one that is there or cannot be written (${guess})\n`,
    ]);
  });

  it('the same as JSON', () => {
    const { code, out } = run(['load', foreign, '--dry-run', '--json']);
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      files: [
        { readBy: 'guess', kind: 'cranks', taken: 2, setAside: 1, profile: { delimiter: ';', decimalMark: ',' } },
      ],
    });
  });

  it('with its question answered the profile loads it', () => {
    const profile = JSON.parse(readFileSync(guess, 'utf8')) as { time: object };
    expect(profile).toMatchObject({ columns: { Fahrzeug: 'unit', Zeit: 'time' } });
    writeFileSync(guess, JSON.stringify({ ...profile, time: { ...profile.time, zone: 'Europe/Berlin' } }));
    const dry = run(['load', foreign, '--dry-run', '--profile', guess]);
    expect(dry.out).toContain('read by the profile as cranks');
    expect(dry.out).toContain('2026-02-01T06:00:00Z');
    const { code, out } = run(['load', foreign, '--profile', guess]);
    expect(code).toBe(1);
    expect(out).toContain('loaded as cranks: 2 rows taken, 1 set aside');
    expect(run(['export', 'set-aside']).out).toContain('3,dip_volts,niedrig,dip_volts requires a number (mV)');
  });
});

describe('a file with known columns whose rows are set aside', () => {
  const hint = 'more rows set aside than taken: load --dry-run shows how the file is understood';
  const header = 'unit,time,rest_volts,dip_volts,crank_seconds';
  const trailing = [1, 2].map((day) => `T-7,2026-02-0${day}T07:00:00Z,12.6,8.1,0.9,`);

  it('is told of the dry run, whose profile then reads it', () => {
    const path = file('trailing.csv', [header, ...trailing]);
    const profile = join(folder, 'trailing.json');
    const { out } = run(['load', path]);
    expect(out).toContain('0 rows taken, 2 set aside');
    expect(out).toContain(hint);
    run(['load', path, '--dry-run', '--profile-out', profile]);
    expect(run(['load', path, '--profile', profile])).toMatchObject({
      code: 0,
      out: expect.stringContaining('2 rows taken, 0 set aside') as string,
    });
  });

  it('is told of it once, where the guess says how its rows are to be read', () => {
    const commas = [1, 2].map((day) => `T-7,2026-02-0${day}T07:00:00Z,"12,6","8,1","0,9"`);
    const { out } = run(['load', file('commas.csv', [header, ...commas])]);
    expect(out).toContain('0 rows taken, 2 set aside');
    expect(out.match(/load --dry-run/g)).toHaveLength(1);
  });

  it('where few are, nothing is said', () => {
    const sound = trailing.map((row) => row.slice(0, -1));
    const { out } = run(['load', file('few.csv', [header, ...sound, 'T-7'])]);
    expect(out).toContain('2 rows taken, 1 set aside');
    expect(out).not.toContain(hint);
  });
});

describe('what cannot be a profile is refused in one line', () => {
  it('no file, no JSON, no meaning, no dry run', () => {
    expect(run(['load', foreign, '--profile', '/nowhere.json'])).toMatchObject({
      code: 2,
      err: '--profile requires a file that can be read, got none (/nowhere.json)\n',
    });
    const bad = file('bad.json', ['{"name": "x", "delimiter": ":"}']);
    expect(run(['load', foreign, '--profile', bad])).toMatchObject({
      code: 2,
      err: `profile requires a comma, a semicolon, a tab or a bar, got ":" (${bad} /delimiter)\n`,
    });
    expect(run(['load', foreign, '--profile-out', '/x.json'])).toMatchObject({
      code: 2,
      err: '--profile-out requires --dry-run, got none (/x.json)\n',
    });
  });
});
