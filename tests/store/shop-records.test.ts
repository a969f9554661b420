import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { loadPaths } from '../../etl/load.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';

const NOW_US = Date.UTC(2026, 5, 1) * 1000;
let folder = '';
let store: Store;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'shop-'));
  store = await openStore(join(folder, 'store.sqlite'));
});
afterEach(async () => {
  store.close();
  await rm(folder, { recursive: true });
});

async function load(name: string, ...rows: string[]) {
  const path = join(folder, name);
  await writeFile(path, `${rows.join('\n')}\n`);
  return loadPaths(store, [path], { nowUs: NOW_US });
}

it('what a shop writes is stored by kind, waits for the register, and goes again', async () => {
  await load('tests.csv', 'unit,time,test,value,unit_of_measure', 'T-1,2026-03-01T06:00:00Z,load_test_voltage,9.1,V');
  await load('codes.csv', 'unit,time,code', 'T-1,2026-03-02T06:00:00Z,P0562');
  await load('bays.csv', 'depot,bay,weekday,hours', 'North,1,1,8', 'North,1,2,6');
  const visits = await load('visits.csv', 'unit,date,depot,reason', 'T-1,2026-07-01,North,brakes');
  expect(visits.waiting).toEqual([{ unit: 'T-1', rows: 3 }]);
  expect((await store.benchResults(Infinity, 'T-1')).map(({ test, value }) => [test, value])).toEqual([
    ['load_test_voltage', 9.1],
  ]);
  expect((await store.troubleCodes(Infinity)).map(({ code }) => code)).toEqual(['P0562']);
  expect(await store.bays()).toEqual([
    { depot: 'North', bay: '1', weekday: 1, hours: 8 },
    { depot: 'North', bay: '1', weekday: 2, hours: 6 },
  ]);
  expect(await store.shopVisits('T-1')).toEqual([
    { unit: 'T-1', visitOn: '2026-07-01', depot: 'North', reason: 'brakes' },
  ]);
  await store.unload(visits.files[0]!.importId!);
  expect(await store.shopVisits()).toEqual([]);
});

it('a value that was entered later is not known before', async () => {
  const columns = 'unit,time,test,value,unit_of_measure,entered';
  await load('tests.csv', columns, 'T-1,2026-03-01T06:00:00Z,brush_length,12,mm,2026-03-05T00:00:00Z');
  expect(await store.benchResults(Date.UTC(2026, 2, 4) * 1000)).toEqual([]);
  expect(await store.benchResults(Date.UTC(2026, 2, 6) * 1000)).toHaveLength(1);
});

it('what was measured or stored at one instant comes in the same order, whichever file came first', async () => {
  const files = {
    'left.csv': ['unit,time,test,value,unit_of_measure,position', 'T-1,2026-03-01T06:00:00Z,brush_length,12,mm,left'],
    'right.csv': ['unit,time,test,value,unit_of_measure,position', 'T-1,2026-03-01T06:00:00Z,brush_length,9,mm,right'],
    'a-codes.csv': ['unit,time,spn,fmi', 'T-1,2026-03-01T06:00:00Z,168,4'],
    'b-codes.csv': ['unit,time,spn,fmi', 'T-1,2026-03-01T06:00:00Z,168,3'],
  };
  const found = async () => [await store.benchResults(Infinity), await store.troubleCodes(Infinity)];
  for (const [name, rows] of Object.entries(files)) await load(name, ...rows);
  const forwards = await found();
  for (const { importId } of await store.imports()) await store.unload(importId);
  for (const [name, rows] of Object.entries(files).toReversed()) await load(name, ...rows);
  expect(forwards.map((rows) => rows.length)).toEqual([2, 2]);
  expect(await found()).toEqual(forwards);
});
