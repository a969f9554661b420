import { readdir, readFile, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assess } from '../../etl/assess.ts';
import { asOf } from '../../etl/model/time.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { restoreStore } from '../../etl/store/backup.ts';
import type { Store } from '../../etl/store/store.ts';
import { acceptAliases, aliasOffers, takeBackAliases } from '../../etl/unit-aliases.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';
import { storeDump } from '../support/store-dump.ts';
import { load, NOW_US, storeFolder, withStore } from '../support/store-folder.ts';

/** A fleet whose files spell its units in four ways, beside the same fleet spelled in one. */
const SPELLINGS: Record<string, (unit: string) => string> = {
  units: (unit) => unit,
  components: (unit) => unit,
  work_orders: (unit) => unit.toLowerCase().replace('-', ''),
  'cranks-2026-q4': (unit) => unit.replace('-', ''),
  waveforms: (unit) => unit.toLowerCase(),
  shop: (unit) => unit.replace('-', ' '),
};
const SHOP_FILES = {
  'bench.csv': 'unit,time,test,value,unit_of_measure\nT-101,2026-09-05T10:00:00Z,open_circuit_voltage,25.3,V\n',
  'codes.csv': 'unit,time,code\nT-101,2026-09-04T10:00:00Z,P0562\n',
  'visits.csv': 'unit,date,depot,reason\nT-101,2026-12-01,Saltreach,service\n',
};
const DAY = asOf('2026-10-20');

let folder: Awaited<ReturnType<typeof storeFolder>>;
const plain: string[] = [];
const mixed: string[] = [];
let units: string[] = [];
beforeAll(async () => {
  folder = await storeFolder();
  const fleet = folder.path('fleet');
  await simulateFleet({ units: 6, days: 90, seed: 3, out: fleet, waveformShare: 0.02 });
  for (const [name, text] of Object.entries(SHOP_FILES)) await writeFile(join(fleet, name), text);
  for (const name of (await readdir(fleet)).sort()) {
    const bytes = await readFile(join(fleet, name));
    const text = (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8');
    const stem = basename(name, '.gz').replace('.csv', '');
    const spell = SPELLINGS[name in SHOP_FILES ? 'shop' : stem] ?? ((unit: string) => unit);
    for (const [list, spelled] of [
      [plain, text],
      [mixed, text.replace(/\b[A-Z]-\d{3}\b/g, spell)],
    ] as const) {
      const path = folder.path(`${list === plain ? 'plain' : 'mixed'}-${stem}.csv`);
      await writeFile(path, spelled);
      list.push(path);
    }
    if (stem === 'units') units = [...text.matchAll(/^[A-Z]-\d{3}/gm)].map(([unit]) => unit).sort();
  }
});
afterAll(async () => folder.remove());

/** What a store shows of its fleet; files differ by their spelling, and kept waveforms by how many spellings keep some. */
async function fleetOf(store: Store) {
  const { imports: _, cranks, ...rest } = await storeDump(store);
  const counted = Object.entries(cranks as Record<string, { files: string[]; waveforms: [number, string][] }>).map(
    ([engine, { files, waveforms: __, ...own }]) => [engine, { ...own, files: files.map((f) => f.slice(6)) }],
  );
  return { ...rest, cranks: Object.fromEntries(counted) as Record<string, unknown> };
}

const acceptAll = async (store: Store) => {
  for (const offer of await aliasOffers(store)) await acceptAliases(store, { ...offer, atUs: NOW_US });
};

describe('spellings that people say to be one unit', () => {
  it('are offered after the load, each with the spelling of the register first', async () => {
    const report = await load(folder.path('offered.sqlite'), mixed);
    expect(report.alike.map(([unit]) => unit)).toEqual(units);
    expect(report.alike.find(([unit]) => unit === 'T-101')).toEqual(['T-101', 'T 101', 'T101', 't-101', 't101']);
    expect(report.waiting.length).toBeGreaterThan(units.length);
  });

  it('make the fleet that one spelling would have made, to the last digit of its forecasts', async () => {
    await load(folder.path('plain.sqlite'), plain);
    await load(folder.path('mixed.sqlite'), mixed);
    const whole = await withStore(folder.path('plain.sqlite'), async (store) => ({
      fleet: await fleetOf(store),
      assessed: await assess(store, DAY),
    }));
    await withStore(folder.path('mixed.sqlite'), async (store) => {
      expect(await fleetOf(store)).not.toEqual(whole.fleet);
      await acceptAll(store);
      expect(await fleetOf(store)).toEqual(whole.fleet);
      expect(await aliasOffers(store)).toEqual([]);
      expect(await assess(store, DAY)).toEqual(whole.assessed);
    });
    expect(whole.assessed.outlooks.length).toBeGreaterThan(10);
  });

  it.each([1, 2, 3])('may be said before, between and after the files, in any order (%i)', async (seed) => {
    const random = createRandom(seed, 'order');
    const shuffled = <Item>(items: readonly Item[]) =>
      items.map((item) => [random.uniform(), item] as const).sort(([a], [b]) => a - b);
    const path = folder.path(`order-${seed}.sqlite`);
    const offers = await withStore(folder.path('offered.sqlite'), aliasOffers);
    const pairs = offers.flatMap(({ unit, spellings }) => spellings.map((spelling) => ({ unit, spelling })));
    for (const [chance, step] of shuffled([...mixed, ...pairs])) {
      if (typeof step === 'string') await load(path, [step]);
      else {
        // Whichever is said to be the other's spelling, the unit goes by the register.
        const said = chance < 0.5 ? step : { unit: step.spelling, spelling: step.unit };
        await withStore(path, async (store) =>
          acceptAliases(store, { unit: said.unit, spellings: [said.spelling], atUs: NOW_US }),
        );
      }
    }
    const fleet = await withStore(folder.path('mixed.sqlite'), storeDump);
    expect(await withStore(path, storeDump)).toEqual(fleet);
  });

  it('are units of their own again once taken back, with everything as it was', async () => {
    const path = folder.path('back.sqlite');
    await load(path, mixed);
    const before = await withStore(path, async (store) => [await fleetOf(store), await store.inputsVersion()]);
    await withStore(path, async (store) => {
      await acceptAll(store);
      expect(await store.inputsVersion()).not.toBe(before[1]);
      for (const unit of units) await takeBackAliases(store, unit, NOW_US);
      expect(await store.unitAliases()).toEqual([]);
      expect([await fleetOf(store), await store.inputsVersion()]).toEqual(before);
    });
  });

  it('outlast unloading, loading again, backup and restore', async () => {
    const [path, copy] = [folder.path('mixed.sqlite'), folder.path('copy.sqlite')];
    const before = await withStore(path, fleetOf);
    await withStore(path, async (store) => {
      const register = (await store.imports()).find(({ kind }) => kind === 'units')!;
      await store.unload(register.importId);
      expect((await store.waiting()).map(({ unit }) => unit)).toEqual(units);
      await store.backup(folder.path('backup.sqlite'));
    });
    restoreStore(folder.path('backup.sqlite'), copy);
    await load(copy, mixed);
    expect(await withStore(copy, fleetOf)).toEqual(before);
    await load(path, mixed);
    expect(await withStore(path, fleetOf)).toEqual(before);
  });
});
