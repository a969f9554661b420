import { describe, expect, it } from 'vitest';
import { emptyTable, FINISHED_COLUMNS, type FinishedTable } from '../../etl/model/crank.ts';
import { dateUs } from '../../etl/model/time.ts';
import { connect } from '../../etl/store/connection.ts';
import type { Store } from '../../etl/store/store.ts';
import { importEnd, imported, importStart, lined, measured, sha256Of } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const [DAY1, DAY2, DAY3] = [dateUs('2025-01-01'), dateUs('2025-01-02'), dateUs('2025-01-03')] as const;
const NONE = new Float64Array();

const putCranks = async (store: Store, file: string, ...times: number[]) =>
  imported(store, file, async (writer) => writer.measured('U1', '', measured(...times.map((timeUs) => ({ timeUs })))));

async function onlyEngine(store: Store) {
  const engines = await store.engines();
  expect(engines).toHaveLength(1);
  return engines[0]!;
}

/** A finished table in which every value differs. */
function table(count: number, offset = 0): FinishedTable {
  const made = emptyTable(FINISHED_COLUMNS, count);
  FINISHED_COLUMNS.forEach((name, column) => {
    for (let row = 0; row < count; row++) made.columns[name][row] = offset + column * 1000 + row + 0.25;
  });
  return made;
}

const isStale = async (store: Store) => (await store.staleEngines()).length === 1;

describe('measured rows', () => {
  it('come back file by file, each in time order, to the last digit, missing ones as NaN', async () => {
    const store = fresh.store();
    const rows = [
      { timeUs: DAY2 + 123_457, restVolts: 12.600000000000001, dipVolts: -0.1, loopOhms: 1e-3, line: 7 },
      { timeUs: DAY1, rateHz: 1000 / 3, form: 6, line: 9 },
    ];
    const written = measured(...rows);
    const first = await imported(store, 'a.csv', async (writer) => writer.measured('U1', '', written));
    const second = await putCranks(store, 'b.csv', DAY3);
    const sources = await store.measured(await onlyEngine(store));
    const bySha = [first, second].sort((a, b) => (shaOf(a) < shaOf(b) ? -1 : 1));
    function shaOf(id: number) {
      return sha256Of(id === first ? 'a.csv' : 'b.csv');
    }
    expect(sources.map(({ importId, sha256 }) => [importId, sha256])).toEqual(bySha.map((id) => [id, shaOf(id)]));
    expect(sources.find(({ importId }) => importId === first)!.table).toEqual(measured(rows[1]!, rows[0]!));
    expect(sources.find(({ importId }) => importId === second)!.table).toEqual(measured({ timeUs: DAY3 }));
  });

  it('of a reader’s batch go to their engines, in bounded transactions; its arrays may be filled anew', async () => {
    const store = fresh.store();
    const count = 12_345;
    const times = Array.from({ length: count }, (_, row) => ({
      timeUs: DAY1 + ((row * 7919) % count) * 1e6,
      line: row + 2,
    }));
    await imported(store, 'a.csv', async (writer) => {
      const batch = {
        count,
        names: ['U1', 'U2', 'left'],
        unit: Int32Array.from({ length: count }, (_, row) => row % 2),
        position: Int32Array.from({ length: count }, () => 2),
        columns: measured(...times).columns,
      };
      await writer.cranks(batch);
      for (const column of Object.values(batch.columns)) column.fill(-1);
      batch.unit.fill(0);
      await writer.cranks({ ...batch, count: 0 });
    });
    expect((await store.engines()).map((each) => [each.unit, each.position])).toEqual([
      ['U1', 'left'],
      ['U2', 'left'],
    ]);
    for (const [index, name] of ['U1', 'U2'].entries()) {
      const [source] = await store.measured((await store.engine(name, 'left'))!);
      const own = times.filter((_, row) => row % 2 === index).sort((a, b) => a.timeUs - b.timeUs);
      expect(source!.table).toEqual(measured(...own));
    }
    expect(await store.engine('U1', '')).toBeNull();
  });

  it('of a load at work are not seen', async () => {
    const store = fresh.store();
    await putCranks(store, 'a.csv', DAY1);
    const engine = await onlyEngine(store);
    const loading = await store.beginImport(importStart('b.csv'));
    for (let day = 0; day < 6000; day++)
      await loading.measured('U1', '', measured({ timeUs: DAY2 + day * 1e6 }, { timeUs: DAY3 + day * 1e6 }));
    expect(await store.measured(engine)).toHaveLength(1);
    expect(await store.newestKnownUs(Number.MAX_SAFE_INTEGER)).toBe(DAY1);
    await loading.commit(importEnd('b.csv'));
    expect((await store.measured(engine)).map(({ table: { count } }) => count).sort((a, b) => a - b)).toEqual([
      1, 12_000,
    ]);
  });
});

describe('the finished block of an engine', () => {
  it('comes back column by column as it was written', async () => {
    const store = fresh.store();
    await putCranks(store, 'a.csv', DAY1);
    const engine = await onlyEngine(store);
    expect(await store.finished(engine)).toBeNull();
    for (const count of [3, 0, 1001]) {
      await store.writeFinished(engine, table(count), NONE);
      expect(await store.finished(engine)).toEqual(table(count));
    }
    const wide = { count: 2, columns: table(5).columns };
    await store.writeFinished(engine, wide, NONE);
    expect((await store.finished(engine))!.columns.importId).toEqual(table(5).columns.importId.subarray(0, 2));
  });

  it('is stale after a file of its cranks, or of its unit’s register, comes or goes; not after another’s', async () => {
    const store = fresh.store();
    const finish = async () => {
      const engine = await onlyEngine(store);
      await store.measured(engine);
      await store.writeFinished(engine, table(1), NONE);
      expect(await isStale(store)).toBe(false);
    };
    await putCranks(store, 'a.csv', DAY1);
    expect(await isStale(store)).toBe(true);
    await finish();
    const register = await imported(store, 'units.csv', async (writer) => writer.units(lined(unit())));
    expect(await isStale(store)).toBe(true);
    await finish();
    await imported(store, 'others.csv', async (writer) => writer.units(lined(unit({ unit: 'U2' }))));
    expect(await isStale(store)).toBe(false);
    await store.unload(register);
    expect(await isStale(store)).toBe(true);
    await finish();
    await store.unload(await putCranks(store, 'b.csv', DAY2));
    expect(await isStale(store)).toBe(true);
  });

  it('of rows read before a change does not clear the mark of that change', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    await putCranks(store, 'a.csv', DAY1);
    const engine = await onlyEngine(store);
    await store.measured(engine);
    const crankUs = DAY2;
    const samples = Uint8Array.of(1, 2, 3);
    await imported(other, 'b.csv', async (writer) => {
      await writer.measured('U1', '', measured({ timeUs: crankUs }));
      await writer.waveforms([{ unit: 'U1', position: '', crankUs, sampleCount: 3, samples }]);
    });
    await store.writeFinished(engine, table(1), Float64Array.of(DAY1));
    expect(await isStale(store)).toBe(true);
    expect(await store.waveform(engine, crankUs)).toEqual(samples);
    await store.measured(engine);
    await store.writeFinished(engine, table(2), Float64Array.of(crankUs));
    expect(await isStale(store)).toBe(false);
  });

  it('of rows read before a change does not replace the block that another process made after it', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    await putCranks(store, 'a.csv', DAY1);
    const engine = await onlyEngine(store);
    await store.measured(engine);
    await putCranks(other, 'b.csv', DAY2);
    await other.measured(engine);
    await other.writeFinished(engine, table(2), NONE);
    await store.writeFinished(engine, table(1), NONE);
    expect(await store.finished(engine)).toEqual(table(2));
    expect(await isStale(store)).toBe(false);
  });

  it('of another layout is not read, and is stale when the store is next opened', async () => {
    const store = fresh.store();
    await putCranks(store, 'a.csv', DAY1);
    const engine = await onlyEngine(store);
    await store.writeFinished(engine, table(1), NONE);
    const { sqlite } = connect(store.path, 'writer');
    sqlite.prepare(`update crank_blocks set layout = 'timeUs volts'`).run();
    sqlite.close();
    expect(await store.finished(engine)).toBeNull();
    const later = await fresh.another();
    expect(await later.staleEngines()).toEqual([engine]);
    await later.measured(engine);
    await later.writeFinished(engine, table(4), NONE);
    expect(await later.staleEngines()).toEqual([]);
    expect(await later.finished(engine)).toEqual(table(4));
  });
});

describe('waveforms', () => {
  const kept = (crankUs: number, ...bytes: number[]) => ({
    unit: 'U1',
    position: '',
    crankUs,
    sampleCount: bytes.length,
    samples: Uint8Array.from(bytes),
  });
  const put = async (store: Store, file: string, ...waveforms: ReturnType<typeof kept>[]) =>
    imported(store, file, async (writer) => {
      await writer.measured('U1', '', measured(...waveforms.map(({ crankUs }) => ({ timeUs: crankUs }))));
      await writer.waveforms(waveforms);
    });

  it('are found by their crank; those that are not kept go for good', async () => {
    const store = fresh.store();
    await put(store, 'a.csv', kept(DAY1, 1), kept(DAY2, 2), kept(DAY3, 3, 255, 0));
    const engine = await onlyEngine(store);
    expect(await store.waveformTimes(engine)).toEqual(Float64Array.of(DAY1, DAY2, DAY3));
    await store.writeFinished(engine, table(1), Float64Array.of(DAY1, DAY3));
    expect(await store.waveformTimes(engine)).toEqual(Float64Array.of(DAY1, DAY3));
    expect(await store.waveform(engine, DAY2)).toBeNull();
    expect(await store.waveform(engine, DAY3)).toEqual(Uint8Array.of(3, 255, 0));
  });

  it('of a load at work are neither seen nor pruned', async () => {
    const store = fresh.store();
    await put(store, 'a.csv', kept(DAY1, 1));
    const engine = await onlyEngine(store);
    const big = { ...kept(DAY2), samples: new Uint8Array(5 * 2 ** 20).fill(7), sampleCount: 9 };
    const loading = await store.beginImport(importStart('b.csv'));
    await loading.waveforms([big]);
    expect(await store.waveformTimes(engine)).toEqual(Float64Array.of(DAY1));
    await store.writeFinished(engine, table(1), Float64Array.of(DAY1));
    await loading.measured('U1', '', measured({ timeUs: DAY2 }));
    await loading.commit(importEnd('b.csv'));
    expect(Buffer.compare((await store.waveform(engine, DAY2))!, big.samples)).toBe(0);
  });

  it('of one crank in two files: the one with more samples', async () => {
    const store = fresh.store();
    await put(store, 'a.csv', kept(DAY1, 1, 2));
    const longer = await put(store, 'b.csv', kept(DAY1, 1, 2, 3));
    const engine = await onlyEngine(store);
    expect(await store.waveform(engine, DAY1)).toEqual(Uint8Array.of(1, 2, 3));
    expect(await store.waveformTimes(engine)).toEqual(Float64Array.of(DAY1));
    await store.unload(longer);
    expect(await store.waveform(engine, DAY1)).toEqual(Uint8Array.of(1, 2));
  });
});
