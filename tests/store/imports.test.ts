import { describe, expect, it } from 'vitest';
import { dateUs } from '../../etl/model/time.ts';
import { connect } from '../../etl/store/connection.ts';
import { importEnd, imported, importStart, lined, measured, sha256Of } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';
import { workOrder } from '../support/work-orders.ts';

const fresh = freshStore();
const crank = (on: string) => measured({ timeUs: dateUs(on) });

/** Rows of every table, so that what was swept is seen to be gone and not only out of sight. */
function rowCounts(path: string): Record<string, number> {
  const { sqlite } = connect(path, 'reader');
  try {
    const names = sqlite.prepare<[], string>(`select name from sqlite_schema where type = 'table'`).pluck().all();
    const rows = (name: string) => Number(sqlite.prepare(`select count(*) from "${name}"`).pluck().get());
    return Object.fromEntries(
      names
        .filter((name) => !name.startsWith('sqlite_'))
        .flatMap((name) => (rows(name) > 0 ? [[name, rows(name)]] : [])),
    );
  } finally {
    sqlite.close();
  }
}

describe('an import', () => {
  it('is seen by nobody before its commit, and as a whole after it', async () => {
    const [store, other] = [fresh.store(), await fresh.another()];
    const before = await store.inputsVersion();
    const writer = await store.beginImport(importStart('all.csv', { kind: 'units', bytes: 77 }));
    await writer.units(lined(...Array.from({ length: 12_000 }, (_, index) => unit({ unit: `U${index}` }))));
    await writer.workOrders(lined(workOrder({ unit: 'W1' })));
    await writer.measured('C1', '', crank('2025-01-01'));
    await writer.setAside([{ line: 9, field: 'unit', value: '', reason: 'unit requires a name' }]);
    for (const each of [store, other]) {
      expect([await each.units(), await each.imports(), await each.engines(), await each.waiting()]).toEqual([
        [],
        [],
        [],
        [],
      ]);
      expect([await each.workOrders(Infinity), await each.staleEngines()]).toEqual([[], []]);
      expect(await each.newestKnownUs(Number.MAX_SAFE_INTEGER)).toBeNull();
      expect(await each.inputsVersion()).toBe(before);
    }
    const end = importEnd('all.csv', { taken: 12_002, setAside: 1, unknownColumns: ['gps'] });
    expect(await writer.commit(end)).toBe('live');
    expect(await other.imports()).toEqual([
      { ...importStart('all.csv', { kind: 'units', bytes: 77 }), ...end, importId: writer.importId, state: 'live' },
    ]);
    expect(await other.units()).toHaveLength(12_000);
    expect((await other.staleEngines()).map(({ unit: name }) => name)).toEqual(['C1']);
    expect(await other.inputsVersion()).not.toBe(before);
  });

  it('cannot be committed twice', async () => {
    const writer = await fresh.store().beginImport(importStart('a.csv'));
    await writer.commit(importEnd('a.csv'));
    await expect(writer.commit(importEnd('a.csv'))).rejects.toThrow(
      'commit requires an import that is loading, got live (store)',
    );
  });

  it('that is abandoned leaves nothing behind', async () => {
    const writer = await fresh.store().beginImport(importStart('a.csv'));
    await writer.units(lined(...Array.from({ length: 6000 }, (_, index) => unit({ unit: `U${index}` }))));
    await writer.abandon();
    expect(rowCounts(fresh.store().path)).toEqual({});
  });

  it('that has appeared stays, whatever fails afterwards: what it replaced is swept the next time', async () => {
    const store = fresh.store();
    await imported(store, 'a.csv', async (writer) => writer.units(lined(unit({ depot: 'former' }))));
    const { sqlite } = connect(store.path, 'writer');
    sqlite.exec("create trigger full before delete on unit_rows begin select raise(abort, 'disk full'); end");
    const writer = await store.beginImport(importStart('a.csv', { readerVersion: 2 }));
    await writer.units(lined(unit({ depot: 'newer' })));
    await expect(writer.commit(importEnd('a.csv'))).rejects.toThrow('disk full');
    sqlite.exec('drop trigger full');
    sqlite.close();
    await writer.abandon();
    expect((await store.units()).map(({ depot }) => depot)).toEqual(['newer']);
    await fresh.another();
    expect(rowCounts(store.path)).toEqual({ imports: 1, import_files: 1, unit_rows: 1 });
  });

  it('of the same bytes is there already, under the first of its names', async () => {
    const store = fresh.store();
    const importId = await imported(store, 'b.csv', async (writer) => writer.units(lined(unit())));
    const version = rowCounts(store.path);
    const writer = await store.beginImport({ ...importStart('b.csv'), file: 'a.csv' });
    await writer.units(lined(unit()));
    expect(await writer.commit(importEnd('b.csv'))).toBe('already');
    expect((await store.imports()).map(({ importId: id, file }) => [id, file])).toEqual([[importId, 'a.csv']]);
    expect(rowCounts(store.path)).toEqual({ ...version, import_files: 2 });
  });

  it('of the same bytes is there already, also where the file still grew when it was first met', async () => {
    const store = fresh.store();
    const importId = await imported(store, 'a.csv', async (writer) => writer.units(lined(unit())));
    const writer = await store.beginImport(importStart('a.csv', { bytes: 99 }));
    await writer.units(lined(unit()));
    expect(await writer.commit(importEnd('a.csv'))).toBe('already');
    expect((await store.imports()).map((each) => each.importId)).toEqual([importId]);
  });

  it.each([{ profile: 'p1' }, { readerVersion: 2 }, { reader: 'parquet' }])(
    'of the same bytes read in another way replaces the former rows: %o',
    async (otherWay) => {
      const store = fresh.store();
      await imported(store, 'a.csv', async (writer) => writer.units(lined(unit({ depot: 'Z first' }))));
      const writer = await store.beginImport(importStart('a.csv', otherWay));
      await writer.units(lined(unit({ depot: 'A second' })));
      expect(await writer.commit(importEnd('a.csv'))).toBe('live');
      expect((await store.units()).map(({ depot }) => depot)).toEqual(['A second']);
      expect(await store.imports()).toHaveLength(1);
      expect(rowCounts(store.path)).toEqual({ imports: 1, import_files: 1, unit_rows: 1 });
    },
  );

  it('taken back leaves nothing behind and gives its record; an id that is not live is refused', async () => {
    const store = fresh.store();
    const importId = await imported(store, 'a.csv', async (writer) => {
      await writer.units(lined(unit()));
      await writer.workOrders(lined(workOrder()));
      await writer.measured('U1', '', crank('2025-01-01'));
      const samples = { sampleCount: 2, samples: Uint8Array.of(1, 2) };
      await writer.waveforms([{ unit: 'U1', position: '', crankUs: dateUs('2025-01-01'), ...samples }]);
      await writer.setAside([{ line: 3, field: '', value: '', reason: 'x' }]);
    });
    expect(await store.unload(importId)).toMatchObject({ importId, file: 'a.csv', sha256: sha256Of('a.csv') });
    expect(rowCounts(store.path)).toEqual({ engines: 1, stale_engines: 1 });
    for (const id of [importId, 99])
      await expect(store.unload(id)).rejects.toThrow(
        `unload requires the id of a loaded file, got ${id} (see imports)`,
      );
  });
});

describe('the version of the inputs', () => {
  it('depends on the files alone, not on their order, and returns when a file goes', async () => {
    const store = fresh.store();
    const none = await store.inputsVersion();
    const first = await imported(store, 'a.csv', () => undefined);
    const one = await store.inputsVersion();
    const second = await imported(store, 'b.csv', () => undefined);
    const both = await store.inputsVersion();
    expect(new Set([none, one, both]).size).toBe(3);
    await store.unload(first);
    await imported(store, 'a.csv', () => undefined);
    expect(await store.inputsVersion()).toBe(both);
    await store.unload(second);
    expect(await store.inputsVersion()).toBe(one);
  });
});

describe('rows set aside', () => {
  const aside = (count: number) =>
    Array.from({ length: count }, (_, index) => ({
      line: index + 2,
      field: 'volts',
      value: `v${index}`,
      reason: 'volts requires a number',
    }));

  async function rowsOf<Row>(rows: AsyncIterable<Row>): Promise<Row[]> {
    const all: Row[] = [];
    for await (const row of rows) all.push(row);
    return all;
  }

  it('come file by file in the order in which they were met, over many pages, up to 10,000 a file', async () => {
    const store = fresh.store();
    const importId = await imported(store, 'z.csv', async (writer) => {
      await writer.setAside(aside(9_500));
      await writer.setAside(aside(9_500).map((row) => ({ ...row, field: 'later' })));
    });
    await imported(store, 'a.csv', async (writer) => writer.setAside(aside(1_001)));
    const all = await rowsOf(store.setAside());
    expect(all.map(({ file }) => file)).toEqual([...Array(1_001).fill('a.csv'), ...Array(10_000).fill('z.csv')]);
    expect(all[1_000]).toEqual({ file: 'a.csv', ...aside(1_001)[1_000]! });
    const own = await rowsOf(store.setAside(importId));
    expect(own).toEqual(all.slice(1_001));
    expect(own[9_500]).toEqual({ file: 'z.csv', ...aside(1)[0]!, field: 'later' });
  });
});

describe('an import that its process did not finish', () => {
  it('is left alone while that process lives, and swept once it is gone', async () => {
    const store = fresh.store();
    const writer = await store.beginImport(importStart('a.csv'));
    await writer.units(lined(...Array.from({ length: 6000 }, (_, index) => unit({ unit: `U${index}` }))));
    await fresh.another();
    expect(rowCounts(store.path)).toMatchObject({ imports: 1, unit_rows: 5000 });
    const { sqlite } = connect(store.path, 'writer');
    sqlite.prepare('update imports set loader = ?').run(`${process.pid} 1 another-boot`);
    sqlite.close();
    await fresh.another();
    expect(rowCounts(store.path)).toEqual({});
  });
});
