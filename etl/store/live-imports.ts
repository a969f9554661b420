import { eq, min } from 'drizzle-orm';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { contentHash } from './content-hash.ts';
import { enginesAt, positionsOf } from './engine-dictionary.ts';
import { prepared } from './prepared.ts';
import { importFiles, imports } from './schema/loaded.ts';
import type { ImportRecord } from './store.ts';
import { sweepImport } from './sweep.ts';
import { isAnyAlias, unitSpellings } from './unit-names.ts';

const { importId, kind, sha256, bytes, profile, reader, readerVersion, taken, setAside, unknownColumns, loadedUs } =
  imports;

/** Live imports, oldest first. */
export function liveImports({ db }: Connection): ImportRecord[] {
  return db
    .select({
      importId,
      file: min(importFiles.file),
      kind,
      sha256,
      bytes,
      profile,
      reader,
      readerVersion,
      taken,
      setAside,
      unknownColumns,
      loadedUs,
    })
    .from(imports)
    .innerJoin(importFiles, eq(importFiles.importId, importId))
    .where(eq(imports.state, 'live'))
    .groupBy(importId)
    .orderBy(importId)
    .all()
    .map((row) => ({ ...row, file: row.file ?? '', sha256: row.sha256 ?? '', state: 'live' }));
}

/** A hash of what is loaded: the same for the same set of files, in whatever order they came. */
export function inputsVersion(connection: Connection): string {
  const identities = liveImports(connection).map((live) =>
    [live.sha256, live.profile, live.reader, live.readerVersion, live.file].join(' '),
  );
  return contentHash(identities.sort());
}

/**
 * Marks everything that rests on an import as stale: the engines whose cranks it holds, and of the units whose register
 * row it holds. Part of the transaction that makes the import appear or vanish.
 */
export function markStale(connection: Connection, id: number, mark: number): void {
  const { sqlite } = connection;
  prepared(
    sqlite,
    `insert into stale_engines (engine_id, mark)
     select engine_id, ? from (
       select engine_id from import_engines where import_id = ?
       union
       select engine_id from engines where unit in (select unit from unit_rows where import_id = ?)
     ) where true
     on conflict (engine_id) do update set mark = excluded.mark`,
  ).run(mark, id, id);
  if (!isAnyAlias(connection)) return;
  for (const spelling of aliasedSpellings(connection, id))
    markUnitStale(connection, unitSpellings(connection, spelling).spellings, mark);
}

/** Spellings that an import names and that are not all there is of their unit. */
function aliasedSpellings({ sqlite }: Connection, id: number): string[] {
  return prepared(
    sqlite,
    `select name from (
       select spelling as name from unit_aliases where withdrawn_us is null
       union select unit from unit_aliases where withdrawn_us is null)
     where name in (select unit from unit_rows where import_id = ?)
       or name in (select unit from engines join import_engines using (engine_id) where import_id = ?)`,
  )
    .pluck()
    .all(id, id) as string[];
}

/**
 * Marks the engines of one unit, each under the number that counts; what stands under the others is no longer theirs.
 * Inside the caller's transaction.
 */
export function markUnitStale(connection: Connection, spellings: readonly string[], mark: number): void {
  const { sqlite } = connection;
  const put = prepared(
    sqlite,
    'insert into stale_engines (engine_id, mark) values (?, ?) on conflict (engine_id) do update set mark = excluded.mark',
  );
  const unmark = prepared(sqlite, 'delete from stale_engines where engine_id = ?');
  const drop = prepared(sqlite, 'delete from crank_blocks where engine_id = ?');
  for (const position of positionsOf(connection, spellings)) {
    const [first, ...others] = enginesAt(connection, spellings, position);
    put.run(first!.engineId, mark);
    for (const { engineId } of others) {
      unmark.run(engineId);
      drop.run(engineId);
    }
  }
}

/** Takes a live import out of sight; its rows are still there, for `sweepImport`. Inside the caller's transaction. */
export function dropImport(connection: Connection, id: number): void {
  markStale(connection, id, -id);
  connection.db.update(imports).set({ state: 'dropped', loader: '' }).where(eq(imports.importId, id)).run();
}

export function unload(connections: StoreConnections, id: number): ImportRecord {
  const writer = writerOf(connections);
  const record = inTransaction(writer, () => {
    const live = liveImports(writer).find((one) => one.importId === id);
    if (!live) throw new RangeError(`unload requires the id of a loaded file, got ${id} (see imports)`);
    dropImport(writer, id);
    return live;
  });
  sweepImport(writer, id);
  return record;
}
