import { and, asc, inArray, isNull } from 'drizzle-orm';
import { isAmong, type UnitDistinction } from '../model/unit-alias.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { unitDistinctions } from './schema/typed.ts';
import type { Store } from './store.ts';

type DistinctionMethods = Pick<Store, 'unitDistinctions' | 'addUnitDistinctions' | 'withdrawUnitDistinctions'>;

/** Which spellings people say to be two units. One that was taken back stays, with the instant. */
export function distinctionMethods(connections: StoreConnections): DistinctionMethods {
  return {
    async unitDistinctions() {
      return standing(connections.reader);
    },
    async addUnitDistinctions(pairs, atUs) {
      const writer = writerOf(connections);
      return inTransaction(writer, () => pairs.map(([unit, other]) => added(writer, { unit, other, createdUs: atUs })));
    },
    async withdrawUnitDistinctions(distinctionIds, atUs) {
      const { distinctionId, withdrawnUs } = unitDistinctions;
      return writerOf(connections)
        .db.update(unitDistinctions)
        .set({ withdrawnUs: atUs })
        .where(and(inArray(distinctionId, [...distinctionIds]), isNull(withdrawnUs)))
        .returning()
        .all();
    },
  };
}

function standing({ db }: Connection): UnitDistinction[] {
  const { distinctionId, withdrawnUs } = unitDistinctions;
  return db.select().from(unitDistinctions).where(isNull(withdrawnUs)).orderBy(asc(distinctionId)).all();
}

function added(writer: Connection, said: Pick<UnitDistinction, 'unit' | 'other' | 'createdUs'>): UnitDistinction {
  const same = standing(writer).find(isAmong([said.unit, said.other]));
  return same ?? writer.db.insert(unitDistinctions).values(said).returning().get();
}
