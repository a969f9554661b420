import { eq, ne } from 'drizzle-orm';
import { getTableName } from 'drizzle-orm';
import { inTransaction, type Connection } from './connection.ts';
import { isAlive } from './process-identity.ts';
import {
  bayRows,
  benchResultRows,
  importFiles,
  imports,
  partRows,
  setAsideRows,
  shopVisitRows,
  troubleCodeRows,
  unitRows,
  waveforms,
  workOrderRows,
} from './schema/loaded.ts';

/** Rows deleted in one go, so that the write lock is held for a moment only. */
const SWEEP_ROWS = 5_000;
const ROW_TABLES = [
  waveforms,
  setAsideRows,
  unitRows,
  partRows,
  workOrderRows,
  benchResultRows,
  troubleCodeRows,
  bayRows,
  shopVisitRows,
].map(getTableName);

/** Deletes what killed loads and interrupted unloads have left. A load at work in another process is left alone. */
export function sweepOrphans(writer: Connection): void {
  const unfinished = writer.db
    .select({ id: imports.importId, loader: imports.loader })
    .from(imports)
    .where(ne(imports.state, 'live'))
    .all();
  for (const { id, loader } of unfinished) if (!isAlive(loader)) sweepImport(writer, id);
}

/** Deletes an invisible import batch by batch, its head last: interrupted, it is taken up by the next sweep. */
export function sweepImport(writer: Connection, id: number): void {
  sweepCranks(writer, id);
  for (const name of ROW_TABLES) sweepTable(writer, name, id);
  inTransaction(writer, () => {
    writer.db.delete(importFiles).where(eq(importFiles.importId, id)).run();
    writer.db.delete(imports).where(eq(imports.importId, id)).run();
  });
}

function sweepCranks(writer: Connection, id: number): void {
  const { sqlite } = writer;
  const engines = sqlite.prepare<[number], { engine_id: number; rows: number }>(
    'select engine_id, rows from import_engines where import_id = ?',
  );
  const cranks = sqlite.prepare<[number, number]>('delete from crank_rows where import_id = ? and engine_id = ?');
  const link = sqlite.prepare<[number, number]>('delete from import_engines where engine_id = ? and import_id = ?');
  const links = engines.all(id);
  while (links.length > 0)
    inTransaction(writer, () => {
      for (let rows = 0; rows < SWEEP_ROWS;) {
        const next = links.pop();
        if (!next) return;
        rows += 1 + next.rows;
        cranks.run(id, next.engine_id);
        link.run(next.engine_id, id);
      }
    });
}

function sweepTable(writer: Connection, name: string, id: number): void {
  const some = writer.sqlite.prepare<[number, number]>(
    `delete from "${name}" where rowid in (select rowid from "${name}" where import_id = ? limit ?)`,
  );
  while (inTransaction(writer, () => some.run(id, SWEEP_ROWS)).changes > 0);
}
