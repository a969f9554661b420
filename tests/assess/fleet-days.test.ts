import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { knownFleet } from '../../etl/known-fleet.ts';
import { loadPaths } from '../../etl/load.ts';
import { asOf, dateOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';

/** One unit whose starter was replaced: lives, cranks and records lie on the days of the fleet's own calendar. */
let folder = '';
let store: Store;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fleet-days-'));
  store = await openStore(join(folder, 'fleet.sqlite'));
});
afterEach(async () => {
  store.close();
  await rm(folder, { recursive: true, force: true });
});

async function load(timeZone: string, orders: string[], cranks: string[] = []): Promise<void> {
  await store.saveSettings({ timeZone });
  const files = {
    'units.csv': ['unit,depot,class,system_volts,battery_count,battery_cca,cylinders', 'U1,D,truck,24,2,1000,6'],
    'orders.csv': ['work_order,unit,opened,closed,entered,complaint,correction', ...orders],
    'cranks.csv': ['unit,time,rest_volts,dip_volts,crank_seconds', ...cranks],
  };
  for (const [name, lines] of Object.entries(files)) await writeFile(join(folder, name), `${lines.join('\n')}\n`);
  const paths = Object.keys(files).map((name) => join(folder, name));
  await loadPaths(store, paths, { nowUs: asOf('2026-01-01').us });
}

const starterLives = async (on: string, zone: string) =>
  (await assess(store, asOf(on, zone))).lives
    .filter(({ component }) => component === 'starter')
    .map(({ fittedOn, removedOn, end }) => [fittedOn, removedOn, end]);

const REPLACED = 'no crank,replaced starter';

describe.each(['America/Los_Angeles', 'Pacific/Auckland', 'UTC'])('a fleet in %s', (zone) => {
  it('has the days of its records where they hold dates alone', async () => {
    await load(zone, [
      `W0,U1,2025-01-10,2025-01-10,2025-01-10,lamp,bulb`,
      `W1,U1,2025-03-01,2025-03-02,2025-03-02,${REPLACED}`,
    ]);
    expect(await starterLives('2025-06-01', zone)).toEqual([
      [null, '2025-03-01', 'failure'],
      ['2025-03-02', null, 'in_service'],
    ]);
  });

  it('knows a record on the day that it was entered, and not the day before', async () => {
    await load(zone, [
      `W0,U1,2025-01-10,2025-01-10,2025-01-10,lamp,bulb`,
      `W1,U1,2025-03-01,2025-03-01,2025-03-05,${REPLACED}`,
    ]);
    expect(await starterLives('2025-03-04', zone)).toEqual([[null, null, 'in_service']]);
    expect(await starterLives('2025-03-05', zone)).toHaveLength(2);
    expect((await store.newestKnownUs(Infinity))! <= asOf('2025-03-05', zone).us).toBe(true);
    expect((await store.newestKnownUs(Infinity))! > asOf('2025-03-04', zone).us).toBe(true);
  });
});

it('counts an evening in Los Angeles to its own day, for records and for cranks', async () => {
  const zone = 'America/Los_Angeles';
  const evening = '2025-03-02T03:00:00Z'; // 1 March, 19:00
  const orders = [`W0,U1,2025-01-10,2025-01-10,,lamp,bulb`, `W1,U1,${evening},${evening},${evening},${REPLACED}`];
  await load(zone, orders, [`U1,${evening},25.4,19.1,1.2`]);
  expect(await starterLives('2025-03-01', zone)).toEqual([
    [null, '2025-03-01', 'failure'],
    ['2025-03-01', null, 'in_service'],
  ]);
  const { states } = await knownFleet(store, asOf('2025-06-01', zone));
  expect([...states[0]!.daily!.day].map(dateOf)).toEqual(['2025-03-01']);
  expect(states[0]!.firstSeenOn).toBe('2025-03-01');
});

it('counts an early morning in Auckland to its own day', async () => {
  const zone = 'Pacific/Auckland';
  const morning = '2025-02-28T18:00:00Z'; // 1 March, 07:00
  await load(
    zone,
    [`W0,U1,2025-01-10,2025-01-10,,lamp,bulb`, `W1,U1,${morning},${morning},${morning},${REPLACED}`],
    [`U1,${morning},25.4,19.1,1.2`],
  );
  expect(await starterLives('2025-02-28', zone)).toEqual([[null, null, 'in_service']]);
  expect((await starterLives('2025-03-01', zone)).map(([, removedOn]) => removedOn)).toEqual(['2025-03-01', null]);
  const { states } = await knownFleet(store, asOf('2025-06-01', zone));
  expect([...states[0]!.daily!.day].map(dateOf)).toEqual(['2025-03-01']);
});
