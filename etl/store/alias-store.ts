import { and, asc, eq, isNull, or } from 'drizzle-orm';
import type { UnitAlias } from '../model/unit-alias.ts';
import { inTransaction, writerOf, type Connection, type StoreConnections } from './connection.ts';
import { contentHash } from './content-hash.ts';
import { markUnitStale } from './live-imports.ts';
import { unitAliases } from './schema/typed.ts';
import type { Store } from './store.ts';
import { unitSpellings } from './unit-names.ts';

type AliasMethods = Pick<Store, 'unitAliases' | 'addUnitAlias' | 'withdrawUnitAliases' | 'unitName'>;

/** Beyond the number of any import: an alias that came marks engines by this and its id, one that went by the negative. */
const ALIAS_MARKS = 2 ** 40;

/** Which spellings people say to be one unit. A withdrawn alias stays, with the instant. */
export function aliasMethods(connections: StoreConnections): AliasMethods {
  return {
    async unitAliases() {
      return standing(connections.reader);
    },
    async addUnitAlias(alias) {
      const writer = writerOf(connections);
      return inTransaction(writer, () => {
        const same = standing(writer).find(({ spelling, unit }) => spelling === alias.spelling && unit === alias.unit);
        if (same !== undefined) return same;
        const added = writer.db.insert(unitAliases).values(alias).returning().get();
        markUnitStale(writer, unitSpellings(writer, added.unit).spellings, ALIAS_MARKS + added.aliasId);
        return added;
      });
    },
    async withdrawUnitAliases(spelling, atUs) {
      const writer = writerOf(connections);
      return inTransaction(writer, () => withdraw(writer, spelling, atUs));
    },
    async unitName(spelling) {
      return unitSpellings(connections.reader, spelling).unit;
    },
  };
}

function standing({ db }: Connection): UnitAlias[] {
  return db.select().from(unitAliases).where(isNull(unitAliases.withdrawnUs)).orderBy(asc(unitAliases.aliasId)).all();
}

function withdraw(writer: Connection, spelling: string, atUs: number): UnitAlias[] {
  const names = or(eq(unitAliases.spelling, spelling), eq(unitAliases.unit, spelling));
  const former = unitSpellings(writer, spelling).spellings;
  const withdrawn = writer.db
    .update(unitAliases)
    .set({ withdrawnUs: atUs })
    .where(and(names, isNull(unitAliases.withdrawnUs)))
    .returning()
    .all();
  const [first] = withdrawn;
  if (first === undefined)
    throw new RangeError(
      `alias remove requires a spelling of which something was said, got ${spelling} (see alias list)`,
    );
  for (const each of former)
    markUnitStale(writer, unitSpellings(writer, each).spellings, -(ALIAS_MARKS + first.aliasId));
  return withdrawn.sort((a, b) => a.aliasId - b.aliasId);
}

/** Changes with what people say to be one unit; the same for the same set, in whatever order it came. */
export function aliasVersion(connection: Connection): string {
  const pairs = standing(connection).map(({ spelling, unit }) => JSON.stringify([spelling, unit]));
  return pairs.length === 0 ? '' : `-${contentHash(pairs.sort())}`;
}
