import { asc, inArray } from 'drizzle-orm';
import type { SetAside } from '../model/set-aside.ts';
import { inBatches } from './batch-queue.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { unreadableFiles } from './schema/loaded.ts';
import type { Store } from './store.ts';

/** Remembers which of the files that were just met could not be read; what was known of the others goes. */
export function noteUnreadable(connections: StoreConnections, met: Parameters<Store['noteUnreadable']>[0]): void {
  const writer = writerOf(connections);
  const known = new Set(unreadableRows(writer).map(({ file }) => file));
  const gone = [...met.readable, ...met.unreadable.map(({ file }) => file)].filter((file) => known.has(file));
  if (gone.length === 0 && met.unreadable.length === 0) return;
  inTransaction(writer, () => {
    for (const files of inBatches(gone))
      writer.db.delete(unreadableFiles).where(inArray(unreadableFiles.file, files)).run();
    // A path may be met twice, and by two loads at once.
    for (const { file, reason } of met.unreadable)
      writer.db
        .insert(unreadableFiles)
        .values({ file, reason })
        .onConflictDoUpdate({ target: unreadableFiles.file, set: { reason } })
        .run();
  });
}

/** As set-aside rows are shown: no line, no field, no value. */
export function unreadableRows({ db }: Connection): (SetAside & { file: string })[] {
  return db
    .select()
    .from(unreadableFiles)
    .orderBy(asc(unreadableFiles.file))
    .all()
    .map(({ file, reason }) => ({ file, line: 0, field: '', value: '', reason }));
}
