import { describe, expect, it } from 'vitest';
import { dateUs } from '../../etl/model/time.ts';
import { spellingGroups } from '../../etl/model/unit-alias.ts';
import { finishStale } from '../../etl/loading/finish-stale.ts';
import { acceptAliases } from '../../etl/unit-aliases.ts';
import { inventedCranks } from '../support/invented-cranks.ts';
import { imported, lined, measured } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';
import { workOrder } from '../support/work-orders.ts';

const fresh = freshStore();
const pair = (spelling: string, named: string) => ({ spelling, unit: named });

describe('which spellings are one unit', () => {
  it.each<[string, [string, string][], string[], Record<string, string[]>]>([
    ['two', [['a', 'A']], [], { A: ['A', 'a'] }],
    ['a chain', [['a', 'b'], ['b', 'c']], [], { c: ['a', 'b', 'c'] }], // prettier-ignore
    ['a chain the other way round', [['b', 'c'], ['a', 'b']], [], { c: ['a', 'b', 'c'] }], // prettier-ignore
    ['the spelling of the register', [['a', 'b'], ['b', 'c']], ['b'], { b: ['a', 'b', 'c'] }], // prettier-ignore
    ['two of the register: as was said', [['a', 'b'], ['b', 'c']], ['a', 'c'], { c: ['a', 'b', 'c'] }], // prettier-ignore
    ['each said to be the other', [['b', 'a'], ['a', 'b']], [], { a: ['a', 'b'] }], // prettier-ignore
    ['two units', [['a', 'A'], ['b', 'B']], ['b'], { A: ['A', 'a'], b: ['B', 'b'] }], // prettier-ignore
    ['two groups that a third alias joins', [['a', 'b'], ['c', 'd'], ['b', 'd']], [], { d: ['a', 'b', 'c', 'd'] }], // prettier-ignore
  ])('%s', (_, aliases, registered, groups) => {
    const found = spellingGroups(
      aliases.map(([spelling, named]) => pair(spelling, named)),
      (each) => registered.includes(each),
    );
    expect(Object.fromEntries(found.map(({ unit: name, spellings }) => [name, spellings]))).toEqual(groups);
  });
});

describe('aliases in the store', () => {
  it('stand until they are taken back; the same pair twice is one', async () => {
    const store = fresh.store();
    const made = await store.addUnitAlias({ ...pair('T014', 'T-014'), createdUs: 5 });
    expect(made).toEqual({ aliasId: 1, ...pair('T014', 'T-014'), createdUs: 5, withdrawnUs: null });
    expect(await store.addUnitAlias({ ...pair('T014', 'T-014'), createdUs: 9 })).toEqual(made);
    expect([await store.unitAliases(), await store.unitName('T014')]).toEqual([[made], 'T-014']);
    expect(await store.withdrawUnitAliases('T-014', 9)).toEqual([{ ...made, withdrawnUs: 9 }]);
    expect([await store.unitAliases(), await store.unitName('T014')]).toEqual([[], 'T014']);
    await expect(store.withdrawUnitAliases('T-014', 9)).rejects.toThrow(
      'alias remove requires a spelling of which something was said, got T-014 (see alias list)',
    );
  });

  it.each([
    ['T-014', ['T-014'], 'alias requires another spelling of the unit, got T-014 (alias)'],
    ['T-014', ['T014', ' T'], 'alias requires a unit number without blanks around it, got " T" (alias)'],
    ['', ['T014'], 'alias requires a unit number without blanks around it, got "" (alias)'],
  ])('%s and %j are refused, and nothing is kept', async (named, spellings, message) => {
    await expect(acceptAliases(fresh.store(), { unit: named, spellings, atUs: 1 })).rejects.toThrow(message);
    expect(await fresh.store().unitAliases()).toEqual([]);
  });

  it('count both spellings of one order, one crank, one register row as one', async () => {
    const store = fresh.store();
    const crank = measured({ timeUs: dateUs('2025-01-01'), crankSeconds: 1, rateHz: 100 });
    await imported(store, 'a.csv', async (writer) => {
      await writer.units(
        lined(unit({ unit: 'T-014', depot: 'old', enteredUs: 1 }), unit({ unit: 'T014', enteredUs: 2 })),
      );
      await writer.workOrders(lined(workOrder({ unit: 'T-014', workOrder: '7' })));
      await writer.measured('T-014', '', crank);
    });
    await imported(store, 'b.csv', async (writer) => {
      await writer.workOrders(
        lined(workOrder({ unit: 'T014', workOrder: '7' }), workOrder({ unit: 'T014', workOrder: '8' })),
      );
      await writer.measured('T014', '', crank);
    });
    await acceptAliases(store, { unit: 'T-014', spellings: ['T014'], atUs: 1 });
    expect((await store.units()).map(({ unit: name, enteredUs }) => [name, enteredUs])).toEqual([['T-014', 2]]);
    expect((await store.workOrders(Infinity, 'T014')).map((each) => [each.unit, each.workOrder])).toEqual([
      ['T-014', '7'],
      ['T-014', '8'],
    ]);
    const engines = await store.engines();
    expect(engines).toEqual([{ engineId: 1, unit: 'T-014', position: '' }]);
    expect(await store.engine('T014', '')).toEqual(engines[0]);
    expect((await store.finished(engines[0]!))!.count).toBe(1);
  });

  it('speak for bookings, deferrals and corrections of either spelling', async () => {
    const store = fresh.store();
    const subject = { unit: 'T014', position: '', component: 'battery' as const, createdUs: 1 };
    await store.addBooking({ ...subject, bookedOn: '2026-01-01', note: '' });
    await store.addDeferral({ ...subject, untilOn: '2026-01-01', reason: 'parts' });
    const readings = [{ component: 'starter' as const, event: 'replaced' as const, unplanned: true, position: '' }];
    await store.correctReading({ unit: 'T014', workOrder: '7', readings, createdUs: 1 });
    await store.addUnitAlias({ ...pair('T014', 'T-014'), createdUs: 5 });
    expect((await store.bookings()).map((each) => each.unit)).toEqual(['T-014']);
    expect((await store.deferrals()).map((each) => each.unit)).toEqual(['T-014']);
    expect((await store.readingCorrections('T-014')).map((each) => each.unit)).toEqual(['T-014']);
    await store.withdrawReading('T-014', '7', 9);
    expect(await store.readingCorrections()).toEqual([]);
  });

  it('leave to another process what it finishes of an engine that they changed meanwhile', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    await imported(store, 'a.csv', async (writer) => writer.measured('T014', '', measured({ timeUs: 1e15 })));
    const [engine] = await other.staleEngines();
    await other.measured(engine!);
    await store.addUnitAlias({ ...pair('T014', 'T-014'), createdUs: 5 });
    await other.writeFinished(engine!, inventedCranks({ seed: 1, fromOn: '2025-01-01', days: 9 }), new Float64Array());
    expect(await store.staleEngines()).toEqual([{ engineId: 1, unit: 'T-014', position: '' }]);
    await finishStale(store);
    expect((await store.finished(engine!))!.count).toBe(1);
  });
});
