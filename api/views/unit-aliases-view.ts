import type { AliasRow, DistinctionRow, UnitAliases } from '../contract/unit-aliases.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { UnitAlias, UnitDistinction } from '../../etl/model/unit-alias.ts';
import type { Store } from '../../etl/store/store.ts';
import { aliasOffers } from '../../etl/unit-aliases.ts';

/** The aliases that stand, and what is offered as one. */
export async function unitAliasesView(store: Store): Promise<UnitAliases> {
  const offers = await aliasOffers(store);
  return {
    aliases: await aliasRows(store, await store.unitAliases()),
    apart: distinctionRows(await store.unitDistinctions()),
    offers: offers.map(({ unit, spellings }) => ({ unit, spellings: [...spellings] })),
  };
}

export async function aliasRows(store: Store, aliases: readonly UnitAlias[]): Promise<AliasRow[]> {
  return Promise.all(
    aliases.map(async ({ spelling, unit, createdUs }) => ({
      spelling,
      unit,
      goesBy: await store.unitName(unit),
      createdAt: isoInstant(createdUs),
    })),
  );
}

export function distinctionRows(apart: readonly UnitDistinction[]): DistinctionRow[] {
  return apart.map(({ unit, other, createdUs }) => ({ unit, other, createdAt: isoInstant(createdUs) }));
}
