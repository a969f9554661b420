import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { asOf, dateUs } from '../../etl/model/time.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { storeFolder, withStore } from '../support/store-folder.ts';
import { unit } from '../support/units.ts';

/** The program as built. */
const CLI = join(import.meta.dirname, '../../.build/program/cli.js');
const [DAY, ZONE] = ['2026-03-10', 'Pacific/Auckland'];
let folder: Awaited<ReturnType<typeof storeFolder>>;
beforeAll(async () => {
  folder = await storeFolder();
});
afterAll(async () => folder.remove());

it('a day that was assessed in another time zone is computed anew, and the newest is told as outdated', async () => {
  const path = folder.path('store.sqlite');
  const run = (...words: string[]) =>
    spawnSync(process.execPath, [CLI, 'export', 'outlook', ...words, '--store', path], { encoding: 'utf8' });
  const bounds = async () => withStore(path, async (store) => (await store.assessments()).map((head) => head.asOf.us));
  await withStore(path, async (store) => {
    await imported(store, 'units.csv', async (writer) => writer.units(lined(unit({ unit: 'U1' }))));
    const cranks = measured({ timeUs: dateUs('2026-03-02'), restVolts: 12.6 });
    await imported(store, 'cranks.csv', async (writer) => writer.measured('U1', '', cranks));
  });
  expect(run('--as-of', DAY).status).toBe(0);
  expect(await bounds()).toEqual([asOf(DAY).us]);
  await withStore(path, async (store) => store.saveSettings({ timeZone: ZONE }));
  expect(run().stderr).toContain(`after the assessment of ${DAY}: run assess`);
  expect(run('--as-of', DAY).status).toBe(0);
  expect(await bounds()).toEqual([asOf(DAY, ZONE).us]);
  expect(run().stderr).toBe('');
});
