import { alikeUnits } from './alike-units.ts';
import { finishStale } from './loading/finish-stale.ts';
import type { UnitAlias, UnitSpellings } from './model/unit-alias.ts';
import type { Store } from './store/store.ts';

/** Other spellings that may be a unit's: offered, never merged by the program. */
export type AliasOffer = UnitSpellings;

export async function aliasOffers(store: Store): Promise<AliasOffer[]> {
  const [units, waiting] = [await store.units(), await store.waiting()];
  const names = (rows: readonly { unit: string }[]) => rows.map(({ unit }) => unit);
  return alikeUnits(names(units), names(waiting)).map(([unit, ...spellings]) => ({ unit: unit!, spellings }));
}

type Said = UnitSpellings & { atUs: number };

/**
 * Counts the rows of the spellings as the unit's from now on, and finishes its cranks anew. Any of them may be without
 * rows: files may come later. Throws RangeError, and changes nothing, where one cannot be another spelling of the unit.
 */
export async function acceptAliases(store: Store, { unit, spellings, atUs }: Said): Promise<UnitAlias[]> {
  for (const each of [unit, ...spellings])
    if (each.trim() !== each || each === '')
      throw new RangeError(
        `alias requires a unit number without blanks around it, got ${JSON.stringify(each)} (alias)`,
      );
  if (spellings.includes(unit))
    throw new RangeError(`alias requires another spelling of the unit, got ${unit} (alias)`);
  const accepted: UnitAlias[] = [];
  for (const spelling of spellings) accepted.push(await store.addUnitAlias({ spelling, unit, createdUs: atUs }));
  await finishStale(store);
  return accepted;
}

/** Takes back every alias that names the spelling. Throws RangeError where none does. */
export async function takeBackAliases(store: Store, spelling: string, atUs: number): Promise<UnitAlias[]> {
  const withdrawn = await store.withdrawUnitAliases(spelling, atUs);
  await finishStale(store);
  return withdrawn;
}
