import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { restoreStore } from '../../etl/store/backup.ts';
import { connect } from '../../etl/store/connection.ts';
import { openStore } from '../../etl/store/open-store.ts';
import { imported, lined } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { withStore } from '../support/store-folder.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const putUnit = async (name: string) =>
  imported(fresh.store(), `${name}.csv`, async (writer) => writer.units(lined(unit({ unit: name }))));
const unitsIn = async (path: string) =>
  withStore(path, async (store) => (await store.units()).map((each) => each.unit));

describe('backup', () => {
  it('is a whole store of its own, taken while the store is in use and another file is loading', async () => {
    const store = fresh.store();
    await putUnit('A');
    const loading = await store.beginImport({
      file: 'x',
      kind: 'units',
      bytes: 1,
      profile: '',
      reader: 'r',
      readerVersion: 1,
    });
    await store.backup(fresh.path('deep/folder/copy.sqlite'));
    await putUnit('B');
    await loading.abandon();
    expect(await unitsIn(fresh.path('deep/folder/copy.sqlite'))).toEqual(['A']);
    expect(readdirSync(fresh.path('deep/folder'))).toEqual(['copy.sqlite']);
    expect(await unitsIn(store.path)).toEqual(['A', 'B']);
  });

  it('refuses to write over a file', async () => {
    writeFileSync(fresh.path('mine.txt'), 'mine');
    await expect(fresh.store().backup(fresh.path('mine.txt'))).rejects.toThrow(
      `backup requires a file that does not exist yet, got one that does (${fresh.path('mine.txt')})`,
    );
    expect(readFileSync(fresh.path('mine.txt'), 'utf8')).toBe('mine');
  });
});

describe('restore', () => {
  it('puts the backup in the place of the store and keeps what stood there', async () => {
    const store = fresh.store();
    const copy = fresh.path('copy.sqlite');
    await putUnit('A');
    await store.backup(copy);
    await putUnit('B');
    store.close();
    restoreStore(copy, store.path);
    expect(await unitsIn(store.path)).toEqual(['A']);
    expect(await unitsIn(`${store.path}.replaced`)).toEqual(['A', 'B']);
    expect(existsSync(copy)).toBe(true);
    restoreStore(`${store.path}.replaced`, store.path);
    expect(await unitsIn(store.path)).toEqual(['A', 'B']);
  });

  it('makes a store where there was none', async () => {
    await putUnit('A');
    await fresh.store().backup(fresh.path('copy.sqlite'));
    restoreStore(fresh.path('copy.sqlite'), fresh.path('new/store.sqlite'));
    expect(await unitsIn(fresh.path('new/store.sqlite'))).toEqual(['A']);
  });

  it('refuses a store that is open elsewhere, and leaves it as it is', async () => {
    const store = fresh.store();
    await putUnit('A');
    await store.backup(fresh.path('copy.sqlite'));
    expect(() => restoreStore(fresh.path('copy.sqlite'), store.path)).toThrow(
      `restore requires a store that no other process has open, got one in use: stop the dashboard or the load first (${store.path})`,
    );
    await putUnit('B');
    expect((await store.units()).map((each) => each.unit)).toEqual(['A', 'B']);
  });

  it.each<[string, (path: string) => void, string]>([
    ['nothing there', () => undefined, 'restore requires a backup file, got nothing there'],
    [
      'an empty file',
      (path) => writeFileSync(path, ''),
      'restore requires a whole backup of a store, got an empty file',
    ],
    [
      'rubbish',
      (path) => writeFileSync(path, 'unit,time\n'.repeat(900)),
      'restore requires a whole backup of a store, got file is not a database',
    ],
    [
      'another program’s database',
      anotherDatabase,
      'a store requires a file that this program made, got another SQLite file',
    ],
    ['a backup cut short', cutShort, 'restore requires a whole backup of a store, got'],
  ])('refuses %s, and leaves the store as it is', async (_, make, words) => {
    await putUnit('A');
    fresh.store().close();
    const [file, before] = [fresh.path('bad.sqlite'), readFileSync(fresh.store().path)];
    make(file);
    expect(() => restoreStore(file, fresh.store().path)).toThrow(words);
    expect(() => restoreStore(file, fresh.store().path)).toThrow(file);
    expect(readFileSync(fresh.store().path).equals(before)).toBe(true);
  });
});

function anotherDatabase(path: string): void {
  const { sqlite } = connect(path, 'writer');
  sqlite.exec('create table songs (name text)');
  sqlite.close();
}

function cutShort(path: string): void {
  copyFileSync(fresh.store().path, path);
  writeFileSync(path, readFileSync(path).subarray(0, 40_000));
}

describe('a store', () => {
  it('is not made of another program’s file, nor of rubbish', async () => {
    const path = fresh.path('bad.sqlite');
    anotherDatabase(path);
    await expect(openStore(path)).rejects.toThrow(`got another SQLite file (${path})`);
    writeFileSync(path, 'unit,time\n'.repeat(900));
    await expect(openStore(path)).rejects.toThrow(
      `a store requires a file that this program made, got file is not a database (${path})`,
    );
  });

  it('opened for reading changes nothing, and must be there', async () => {
    await putUnit('A');
    const reading = await openStore(fresh.store().path, { readonly: true });
    expect((await reading.units()).map((each) => each.unit)).toEqual(['A']);
    await expect(reading.saveSettings({ currency: 'EUR' })).rejects.toThrow(
      `a change requires a store opened for writing, got a read-only one (${reading.path})`,
    );
    reading.close();
    await expect(openStore(fresh.path('none.sqlite'), { readonly: true })).rejects.toThrow(
      `a store requires a file that exists, got nothing there (${fresh.path('none.sqlite')})`,
    );
    expect(existsSync(fresh.path('none.sqlite'))).toBe(false);
  });

  it('holds every row to its import: foreign keys are on', async () => {
    const { sqlite } = connect(fresh.store().path, 'writer');
    const orphan = `insert into set_aside_rows (import_id, seq, line, field, value, reason) values (99, 0, 1, '', '', '')`;
    expect(() => sqlite.exec(orphan)).toThrow('FOREIGN KEY constraint failed');
    sqlite.close();
  });
});
