import type { AliasRow, UnitAliases } from '../contract/unit-aliases.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { UnitAlias } from '../../etl/model/unit-alias.ts';
import type { Store } from '../../etl/store/store.ts';
import { aliasOffers } from '../../etl/unit-aliases.ts';

/** The aliases that stand, and what is offered as one. */
export async function unitAliasesView(store: Store): Promise<UnitAliases> {
  const offers = await aliasOffers(store);
  return {
    aliases: await aliasRows(store, await store.unitAliases()),
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
