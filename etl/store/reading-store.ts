import { and, asc, eq, isNull } from 'drizzle-orm';
import type { ReadingCorrection } from '../model/reading-correction.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { contentHash } from './content-hash.ts';
import { readingCorrections, settings } from './schema/typed.ts';
import type { Store } from './store.ts';
import { unitNames } from './unit-names.ts';

type ReadingMethods = Pick<Store, 'readingCorrections' | 'correctReading' | 'withdrawReading'>;

/** How people read repair records, in place of the program. A withdrawn correction stays, with the instant. */
export function readingMethods(connections: StoreConnections): ReadingMethods {
  return {
    async readingCorrections(unit) {
      return standing(connections.reader, unit);
    },
    async correctReading(correction) {
      const writer = writerOf(connections);
      return inTransaction(writer, () => {
        withdraw(writer, correction, correction.createdUs);
        return writer.db.insert(readingCorrections).values(correction).returning().get();
      });
    },
    async withdrawReading(unit, workOrder, atUs) {
      if (withdraw(writerOf(connections), { unit, workOrder }, atUs) === 0)
        throw new RangeError(`withdraw requires a correction that stands, got ${unit} ${workOrder} (work orders)`);
    },
  };
}

function standing(connection: Connection, unit?: string): ReadingCorrection[] {
  const names = unitNames(connection, unit);
  return connection.db
    .select()
    .from(readingCorrections)
    .where(and(isNull(readingCorrections.withdrawnUs), names.isOf(readingCorrections.unit)))
    .orderBy(asc(readingCorrections.correctionId))
    .all()
    .map((row) => ({ ...row, unit: names.nameOf(row.unit) }));
}

/** Returns how many stood. */
function withdraw(connection: Connection, record: { unit: string; workOrder: string }, atUs: number): number {
  const { unit, workOrder, withdrawnUs } = readingCorrections;
  return connection.db
    .update(readingCorrections)
    .set({ withdrawnUs: atUs })
    .where(and(unitNames(connection, record.unit).isOf(unit), eq(workOrder, record.workOrder), isNull(withdrawnUs)))
    .run().changes;
}

/** Changes with what people say of how records are read: their corrections, and the codes that they mapped. */
export function readingRulesVersion(connection: Connection): string {
  const codes = connection.db.select().from(settings).where(eq(settings.name, 'systemCodes')).get()?.value ?? {};
  const corrections = standing(connection).map(({ unit, workOrder, readings }) => [unit, workOrder, readings]);
  const none = corrections.length === 0 && Object.keys(codes).length === 0;
  return none ? '' : `-${contentHash([codes, corrections])}`;
}
