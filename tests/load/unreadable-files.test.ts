import { symlink, writeFile } from 'node:fs/promises';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { SET_ASIDE_EXPORT } from '../../api/export/set-aside-export.ts';
import { loadPaths } from '../../etl/load.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { asOf } from '../../etl/model/time.ts';
import { freshStore } from '../support/open-stores.ts';
import { NOW_US, storeFolder } from '../support/store-folder.ts';

const fresh = freshStore();
let folder: Awaited<ReturnType<typeof storeFolder>>;
beforeEach(async () => {
  folder = await storeFolder();
});
afterEach(async () => folder.remove());

const HEADER = 'unit,time,rest_volts,dip_volts,crank_seconds\n';
const GOOD = `${HEADER}U1,2026-01-02T06:00:00Z,12.6,8,0.9\n`;
const load = async () => loadPaths(fresh.store(), [folder.path('.')], { nowUs: NOW_US });

async function exported(): Promise<unknown[][]> {
  const rows: unknown[][] = [];
  const question = { store: fresh.store(), asOf: asOf('2026-06-01'), settings: DEFAULT_SETTINGS, decidedUs: NOW_US };
  for await (const cells of SET_ASIDE_EXPORT.rows(question)) rows.push([...cells]);
  return rows.map(([file, ...rest]) => [String(file).split('/').at(-1), ...rest]);
}

it('a file that could not be read stands in the export of what was set aside, without line and field', async () => {
  await writeFile(folder.path('good.csv'), `${GOOD}U1,yesterday,12.6,8,0.9\n`);
  await writeFile(folder.path('bad.csv'), 'date,town\n1,2\n');
  await load();
  const bad = ['bad.csv', null, '', '', expect.stringContaining('file requires the columns of a known kind')];
  const row = ['good.csv', 3, 'time', 'yesterday', expect.any(String)];
  expect(await exported()).toEqual([bad, row]);
  await load();
  expect(await exported()).toEqual([bad, row]);
});

it('it goes once the file can be read, and only then', async () => {
  await writeFile(folder.path('bad.csv'), '');
  await writeFile(folder.path('good.csv'), GOOD);
  await load();
  await loadPaths(fresh.store(), [folder.path('good.csv')], { nowUs: NOW_US });
  expect(await exported()).toEqual([['bad.csv', null, '', '', 'file requires a header row, got an empty file']]);
  await writeFile(folder.path('bad.csv'), 'date,town\n1,2\n');
  await load();
  expect((await exported()).map((cells) => cells[4])).toEqual([expect.stringContaining('got date, town')]);
  await writeFile(folder.path('bad.csv'), GOOD.replace('U1', 'U2'));
  await load();
  expect(await exported()).toEqual([]);
});

it('what was set aside of one import alone does not name other files', async () => {
  await writeFile(folder.path('bad.csv'), '');
  await writeFile(folder.path('good.csv'), `${GOOD}U1,yesterday,12.6,8,0.9\n`);
  const report = await load();
  const { importId } = report.files.find(({ result }) => result === 'loaded')!;
  const lines: number[] = [];
  for await (const { line } of fresh.store().setAside(importId!)) lines.push(line);
  expect(lines).toEqual([3]);
});

it('the same broken path twice, or noted by two loads at once, is one that could not be read', async () => {
  await symlink('loop', folder.path('loop'));
  await writeFile(folder.path('good.csv'), GOOD);
  const report = await loadPaths(fresh.store(), [folder.path('loop'), folder.path('.')], { nowUs: NOW_US });
  expect(report.files.map(({ result }) => result)).toContain('loaded');
  expect((await exported()).map(([file]) => file)).toEqual(['loop']);
});
