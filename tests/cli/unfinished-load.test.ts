import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { dateUs } from '../../etl/model/time.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { storeFolder, withStore } from '../support/store-folder.ts';
import { unit } from '../support/units.ts';

/** The program as built, on a store whose load was killed between its last file and the finishing of its cranks. */
const CLI = join(import.meta.dirname, '../../.build/program/cli.js');
let folder: Awaited<ReturnType<typeof storeFolder>>;
let path = '';
let made = 0;

beforeAll(async () => {
  folder = await storeFolder();
});
afterAll(async () => folder.remove());
beforeEach(async () => {
  path = folder.path(`store-${made++}.sqlite`);
  await withStore(path, async (store) => {
    await imported(store, 'units.csv', async (writer) => writer.units(lined(unit({ unit: 'U1' }))));
    const cranks = measured({ timeUs: dateUs('2026-03-02'), restVolts: 12.6 });
    await imported(store, 'cranks.csv', async (writer) => writer.measured('U1', '', cranks));
  });
});
const run = (...words: string[]) => spawnSync(process.execPath, [CLI, ...words, '--store', path], { encoding: 'utf8' });
const stale = async () => withStore(path, async (store) => store.staleEngines());

it('its cranks are exported', async () => {
  expect(await stale()).toHaveLength(1);
  const { status, stdout } = run('export', 'cranks');
  expect([status, stdout.trimEnd().split('\n').length]).toEqual([0, 2]);
});

it('a backtest finishes them before it looks', async () => {
  expect(run('backtest')).toMatchObject({ status: 2, stderr: expect.stringContaining('90 days of records') });
  expect(await stale()).toEqual([]);
});

it('the dashboard shows them', async () => {
  const child = spawn(process.execPath, [CLI, 'serve', '--port', '0', '--store', path]);
  let said = '';
  child.stderr.on('data', (text: Buffer) => (said += text.toString()));
  const ended = once(child, 'close');
  try {
    const [address] = (await once(child.stdout, 'data')) as [Buffer];
    const answer = await fetch(`${address.toString().trim()}/api/units/U1/cranks`);
    expect(await answer.json()).toMatchObject({ unit: 'U1', cranks: [{ restVolts: 12.6 }] });
    expect(said).toContain('bringing the cranks of 1 engine up to date');
  } finally {
    child.kill();
    await ended;
  }
});
