import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { assessAndRank } from '../../api/assess-and-rank.ts';
import { finishedEngine, finishStale } from '../../etl/loading/finish-stale.ts';
import { asOf, dateUs, US_PER_DAY } from '../../etl/model/time.ts';
import type { Engine } from '../../etl/model/unit.ts';
import { PATTERNS } from '../../etl/model/words.ts';
import type { Store } from '../../etl/store/store.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const BEGIN = dateUs('2025-01-02'); // a Thursday: weeks are counted from 1970-01-01, a Thursday
const times = Array.from({ length: 42 }, (_, index) => BEGIN + (index * US_PER_DAY) / 2);

/** Three weeks of cranks, two a day, each with a waveform; the register alone can tell that the fifth was slow. */
const putCranks = async (store: Store) =>
  imported(store, 'log.csv', async (writer) => {
    const rows = times.map((timeUs, index) => ({
      timeUs,
      restVolts: 12.6,
      crankVolts: 10.5,
      crankSeconds: 1,
      tempC: 20,
      rippleHz: index === 4 ? 2 : 7,
    }));
    await writer.measured('U1', '', measured(...rows));
    const samples = { sampleCount: 1, samples: Uint8Array.of(1) };
    await writer.waveforms(times.map((crankUs) => ({ unit: 'U1', position: '', crankUs, ...samples })));
  });
const putRegister = async (store: Store, cylinders: number) =>
  imported(store, `units-${cylinders}.csv`, async (writer) =>
    writer.units(lined(unit({ cylinders, enteredUs: dateUs('2025-01-01') + cylinders }))),
  );
const only = async (store: Store) => (await store.engine('U1', ''))!;

describe('finishing what is stale', () => {
  it('keeps every waveform until the register is there; then the newest, one a week, and what is not steady', async () => {
    const store = fresh.store();
    await putCranks(store);
    expect(await finishStale(store)).toBe(1);
    expect(await store.waveformTimes(await only(store))).toEqual(Float64Array.from(times));
    await store.saveSettings({ keptNewestWaveforms: 10 });
    await putRegister(store, 4);
    expect(await finishStale(store)).toBe(1);
    const { pattern, crankRpm } = (await store.finished(await only(store)))!.columns;
    expect([crankRpm[4], PATTERNS[pattern[4]!], crankRpm[5], PATTERNS[pattern[5]!]]).toEqual([
      60,
      'slow',
      210,
      'steady',
    ]);
    // 14 cranks a week: the last of the first two weeks, the slow one, and the newest ten.
    const kept = [4, 13, 27, ...Array.from({ length: 10 }, (_, index) => 32 + index)];
    expect(await store.waveformTimes(await only(store))).toEqual(Float64Array.from(kept, (index) => times[index]!));
    expect(await finishStale(store)).toBe(0);
  });

  it('never takes an old register for answered: one that comes meanwhile leaves the engine stale', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    await putCranks(store);
    await putRegister(store, 4);
    const meddled: Store = {
      ...store,
      async measured(engine) {
        const sources = await store.measured(engine);
        await putRegister(other, 8);
        return sources;
      },
    };
    await finishStale(meddled);
    expect(await store.staleEngines()).toHaveLength(1);
    await finishStale(store);
    expect(await store.staleEngines()).toEqual([]);
    // 7 Hz of ripple at 8 cylinders: 7 · 120 / 8 = 105 rpm.
    expect((await store.finished(await only(store)))!.columns.crankRpm[0]).toBe(105);
  });

  it('comes first when a fleet is assessed: a load may have been killed before it', async () => {
    const store = fresh.store();
    await putRegister(store, 4);
    await putCranks(store);
    expect(await store.staleEngines()).toHaveLength(1);
    await assessAndRank(store, asOf('2025-02-01'), { nowUs: dateUs('2025-02-01') });
    expect(await store.staleEngines()).toEqual([]);
    expect((await store.finished(await only(store)))!.count).toBe(times.length);
    const trends = await store.trends('2025-02-01', 'U1');
    expect(trends.some(({ n }) => n > 0)).toBe(true);
  });

  it('by several at once leaves none out, whoever writes while another one reads', async () => {
    const store = fresh.store();
    const rows = Array.from({ length: 300 }, (_, index) => ({ timeUs: BEGIN + index * 3600e6, crankSeconds: 1 }));
    await imported(store, 'fleet.csv', async (writer) => {
      for (let number = 0; number < 40; number++) await writer.measured(`U${number}`, '', measured(...rows));
    });
    const finisher = (newest: number) => ({
      width: 4,
      async finish(engine: Engine) {
        const finished = await finishedEngine(store, engine, newest);
        // Every third engine takes longer than those that come after it.
        if (engine.engineId % 3 === 0) await setTimeout(5);
        return finished;
      },
      close: () => undefined,
    });
    expect(await finishStale(store, { finisher })).toBe(40);
    expect(await store.staleEngines()).toEqual([]);
  });

  it('asked to stop while threads are at it is no failure: what they have finished is kept, the rest stays stale', async () => {
    const store = fresh.store();
    await imported(store, 'fleet.csv', async (writer) => {
      const rows = Array.from({ length: 300 }, (_, index) => ({ timeUs: BEGIN + index * 3600e6 }));
      for (let number = 0; number < 20; number++) await writer.measured(`U${number}`, '', measured(...rows));
    });
    const stop = new AbortController();
    const finisher = (newest: number) => ({
      width: 1,
      async finish(engine: Engine) {
        if (engine.unit === 'U3') stop.abort();
        if (stop.signal.aborted) throw new Error('finishing requires a thread that lives, got its end');
        return finishedEngine(store, engine, newest);
      },
      close: () => undefined,
    });
    const done = await finishStale(store, { finisher, signal: stop.signal });
    expect([done, (await store.staleEngines()).length]).toEqual([13, 7]);
  });

  it('of an engine whose last file went leaves an empty block', async () => {
    const store = fresh.store();
    const importId = await putCranks(store);
    await finishStale(store);
    const engine = await only(store);
    await store.unload(importId);
    expect(await finishStale(store)).toBe(1);
    expect((await store.finished(engine))!.count).toBe(0);
    expect(await store.engines()).toEqual([]);
  });
});
