import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

/** The program as built, as a user calls it: each step on what the one before has left. */
const CLI = join(import.meta.dirname, '../../.build/program/cli.js');
const folder = mkdtempSync(join(tmpdir(), 'alias-'));
const run = (...words: string[]) => {
  const env = { ...process.env, CRANKLEDGER_STORE: join(folder, 'store.sqlite') };
  const ran = spawnSync(process.execPath, [CLI, ...words], { encoding: 'utf8', env });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
};
writeFileSync(
  join(folder, 'units.csv'),
  'unit,depot,class,system_volts,battery_count,battery_cca,cylinders\nT-014,North,van,12,1,700,4\n',
);
writeFileSync(
  join(folder, 'cranks.csv'),
  `unit,time,rest_volts,dip_volts,crank_seconds\n${['T-014', 't 014']
    .map((unit, hour) => `${unit},2026-02-01T0${hour}:00:00Z,12.6,7.2,0.9\n`)
    .join('')}`,
);
const OFFER = "may be one unit: T-014, t 014: crankledger alias add T-014 't 014'\n";

it('offers, adds, lists and removes', () => {
  const loaded = run('load', join(folder, 'units.csv'), join(folder, 'cranks.csv'));
  expect([loaded.code, loaded.out]).toEqual([0, expect.stringContaining(OFFER)]);
  expect(run('alias')).toEqual({ code: 0, out: '', err: `no spelling has been said to be another unit\n${OFFER}` });
  expect(run('alias', 'add', 't 014', 'T-014')).toEqual({
    code: 0,
    out: 'T-014 and t 014 are one unit: T-014\n',
    err: 'run assess again: the ranking does not know it yet\n',
  });
  expect(run('alias', 'list').out).toMatch(/^t 014\tT-014\t20\d\d-.*Z\n$/);
  const cranks = run('export', 'cranks').out.trimEnd().split('\n').slice(1);
  expect(cranks.map((line) => line.split(',')[0])).toEqual(['T-014', 'T-014']);
  expect(JSON.parse(run('alias', 'list', '--json').out)).toMatchObject({ aliases: [{ goesBy: 'T-014' }], offers: [] });
  expect(run('alias', 'remove', 't 014').out).toBe('T-014 and t 014 are two units again\n');
});

it('what is said to be two units is not offered again, by no load either, until that is taken back', () => {
  expect(run('alias', 'apart', 'T-014', 't 014')).toEqual({
    code: 0,
    out: 'T-014 and t 014 are two units\n',
    err: '',
  });
  const listed = run('alias');
  expect([listed.out, listed.err]).toEqual([
    expect.stringMatching(/^T-014\tnot t 014\t20\d\d-.*Z\n$/),
    'no spelling has been said to be another unit\n',
  ]);
  expect(run('load', join(folder, 'cranks.csv')).out).not.toContain('may be one unit');
  expect(run('alias', 'remove', 't 014').out).toBe('T-014 and t 014 may be one unit again\n');
  expect(run('alias').err).toContain(OFFER);
});

it('says what is wrong in one line, exit 2', () => {
  const removed = run('alias', 'remove', 'X');
  expect(removed).toEqual({
    code: 2,
    out: '',
    err: 'alias remove requires a spelling of which something was said, got X (see alias list)\n',
  });
  expect(run('alias', 'add', 'X')).toMatchObject({ code: 2, out: '', err: expect.stringContaining('spelling') });
  expect(run('alias', '--help')).toMatchObject({ code: 0, out: expect.stringContaining('remove') });
});

it('unloading cranks says what does not come back', () => {
  const { imports } = JSON.parse(run('imports', '--json').out) as { imports: { importId: number; kind: string }[] };
  const { importId } = imports.find(({ kind }) => kind === 'cranks')!;
  expect(run('unload', String(importId)).err).toBe(
    'samples of earlier cranks that were let go for newer ones of this file do not come back: to see them, unload and load their file again\n',
  );
});
