import { existsSync, readdirSync } from 'node:fs';
import { getTableColumns, getTableName, is } from 'drizzle-orm';
import type { MigrationMeta } from 'drizzle-orm/migrator';
import { SQLiteTable } from 'drizzle-orm/sqlite-core';
import { describe, expect, it } from 'vitest';
import { connect } from '../../etl/store/connection.ts';
import { migrateStore, storeMigrations, storeVersion } from '../../etl/store/migrate.ts';
import { openStore } from '../../etl/store/open-store.ts';
import * as derived from '../../etl/store/schema/derived.ts';
import * as loaded from '../../etl/store/schema/loaded.ts';
import * as typed from '../../etl/store/schema/typed.ts';
import { imported, lined } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();
const known = storeMigrations();
const migration = (...sql: string[]): MigrationMeta => ({ sql, bps: true, folderMillis: 1, hash: 'h' });

/** A parent table rebuilt as drizzle does it: copied, dropped, renamed. With foreign keys on, SQLite refuses or cascades. */
const REBUILD_IMPORTS = migration(
  `create table new_imports as select *, 'fresh' as added from imports`,
  `create table rebuilt_imports (import_id integer primary key autoincrement not null, kind text not null, sha256 text, added text)`,
  `insert into rebuilt_imports select import_id, kind, sha256, added from new_imports`,
  `drop table new_imports`,
  `drop table imports`,
  `alter table rebuilt_imports rename to imports`,
);

async function migrated(migrations: MigrationMeta[]) {
  const path = fresh.store().path;
  await imported(fresh.store(), 'units.csv', async (writer) =>
    writer.units(lined(unit({ unit: 'A' }), unit({ unit: 'B' }))),
  );
  fresh.store().close();
  const connection = connect(path, 'writer');
  return { path, connection, run: () => migrateStore(connection, migrations) };
}

describe('an older store', () => {
  it('is copied beside itself and brought up to date; child rows of a rebuilt table survive', async () => {
    const { path, connection, run } = await migrated([...known, REBUILD_IMPORTS]);
    const { sqlite } = connection;
    run();
    expect(sqlite.prepare('select import_id, kind, added from imports').all()).toEqual([
      { import_id: 1, kind: 'cranks', added: 'fresh' },
    ]);
    expect(sqlite.prepare('select unit from unit_rows order by unit').pluck().all()).toEqual(['A', 'B']);
    expect(sqlite.prepare('select file from import_files').pluck().all()).toEqual(['units.csv']);
    expect(sqlite.pragma('foreign_key_check')).toEqual([]);
    expect(sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
    expect(storeVersion(connection, known.length + 1)).toBe(known.length + 1);
    sqlite.close();
    const copy = await openStore(`${path}.version-${known.length}`);
    expect((await copy.units()).map((each) => each.unit)).toEqual(['A', 'B']);
    copy.close();
  });

  it('of the first layout keeps its cranks; what was not measured then is missing', () => {
    const { sqlite, db } = connect(fresh.path('first.sqlite'), 'writer');
    migrateStore({ sqlite, db }, known.slice(0, 1));
    sqlite.exec(`insert into crank_rows (engine_id, time_us, import_id, line, rest_volts) values (1, 5, 1, 2, 12.6)`);
    migrateStore({ sqlite, db }, known);
    const row = sqlite.prepare('select rest_volts, crank_amps, relative_compression from crank_rows').get();
    expect(row).toEqual({ rest_volts: 12.6, crank_amps: null, relative_compression: null });
    sqlite.close();
  });

  it('is left as it was by a migration that fails halfway, or loses a parent', async () => {
    const halfway = migration('create table extra (a text)', 'no such statement');
    const { connection, run } = await migrated([...known, halfway]);
    expect(run).toThrow('syntax error');
    const loses = () => migrateStore(connection, [...known, migration('delete from imports')]);
    expect(loses).toThrow('a migration requires every row to keep its parent, got [{"table":');
    const { sqlite } = connection;
    expect(storeVersion(connection)).toBe(known.length);
    expect(sqlite.prepare(`select count(*) from sqlite_schema where name = 'extra'`).pluck().get()).toBe(0);
    expect(sqlite.prepare('select count(*) from imports').pluck().get()).toBe(1);
    expect(sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
    sqlite.close();
  });

  it('cannot be opened for reading only before it is brought up to date', async () => {
    const { path, connection } = await migrated([]);
    connection.sqlite.pragma('user_version = 0');
    connection.sqlite.close();
    await expect(openStore(path, { readonly: true })).rejects.toThrow(
      `reading requires a store of version ${known.length}, got 0: any writing command updates it (${path})`,
    );
  });
});

describe('a store up to date', () => {
  it('is neither copied nor changed', async () => {
    const { path, connection, run } = await migrated(known);
    run();
    connection.sqlite.close();
    expect(readdirSync(fresh.path('.')).filter((name) => name.includes('version'))).toEqual([]);
    expect(existsSync(path)).toBe(true);
  });

  it('of a newer program is refused', async () => {
    const { path, connection } = await migrated(known);
    connection.sqlite.pragma(`user_version = ${known.length + 1}`);
    connection.sqlite.close();
    for (const readonly of [true, false])
      await expect(openStore(path, { readonly })).rejects.toThrow(
        `a store requires version ${known.length} or older, got ${known.length + 1} (${path})`,
      );
  });

  it('new made by the migrations has the tables and columns of the schema, cranks in the order of their key', () => {
    const { sqlite, db } = connect(fresh.path('generated.sqlite'), 'writer');
    migrateStore({ sqlite, db }, known);
    const tables = Object.values({ ...loaded, ...derived, ...typed }).filter((each) => is(each, SQLiteTable));
    const columnsOf = sqlite.prepare<[string], string>(
      `select name || ' ' || "notnull" from pragma_table_info(?) order by 1`,
    );
    const made = sqlite
      .prepare<[], string>(`select name from sqlite_schema where type = 'table' and name not like 'sqlite%'`)
      .pluck();
    expect(new Set(made.all())).toEqual(new Set(tables.map(getTableName)));
    for (const table of tables) {
      const columns = Object.values(getTableColumns(table)).map(({ name, notNull }) => `${name} ${Number(notNull)}`);
      expect(new Set(columnsOf.pluck().all(getTableName(table)))).toEqual(new Set(columns));
    }
    const cranks = sqlite.prepare(`select sql from sqlite_schema where name = 'crank_rows'`).pluck().get();
    expect(String(cranks)).toMatch(/without rowid/i);
    sqlite.close();
  });
});
