import { writeFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { loadPaths } from '../../etl/load.ts';
import { freshStore } from '../support/open-stores.ts';
import { NOW_US } from '../support/store-folder.ts';

const fresh = freshStore();

it('the same bytes under another path: the report names the import that holds them', async () => {
  const cranks = 'unit,time,rest_volts,dip_volts,crank_seconds\nU1,2026-01-02T06:00:00Z,12.6,8,0.9\n';
  for (const name of ['a.csv', 'b.csv']) await writeFile(fresh.path(name), cranks);
  const report = await loadPaths(fresh.store(), [fresh.path('a.csv'), fresh.path('b.csv')], { nowUs: NOW_US });
  const [live] = await fresh.store().imports();
  expect(report.files.map(({ result, importId }) => [result, importId])).toEqual([
    ['loaded', live!.importId],
    ['already', live!.importId],
  ]);
});
