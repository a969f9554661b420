import { alikeUnits, undecided } from './alike-units.ts';
import { finishStale } from './loading/finish-stale.ts';
import { isAmong, type UnitAlias, type UnitDistinction, type UnitSpellings } from './model/unit-alias.ts';
import type { Store } from './store/store.ts';

/** Other spellings that may be a unit's, and of which nobody has said yet: offered, never merged by the program. */
export type AliasOffer = UnitSpellings;

export async function aliasOffers(store: Store): Promise<AliasOffer[]> {
  const [units, waiting] = [await store.units(), await store.waiting()];
  const names = (rows: readonly { unit: string }[]) => rows.map(({ unit }) => unit);
  const apart = await store.unitDistinctions();
  const isApart = (unit: string, other: string) => apart.some(isAmong([unit, other]));
  return alikeUnits(names(units), names(waiting))
    .flatMap((group) => undecided(group, isApart))
    .map(([unit, ...spellings]) => ({ unit: unit!, spellings }));
}

type Said = UnitSpellings & { atUs: number };

/**
 * Counts the rows of the spellings as the unit's from now on, and finishes its cranks anew. Any of them may be without
 * rows: files may come later. Throws RangeError, and changes nothing, where one cannot be another spelling of the unit.
 */
export async function acceptAliases(store: Store, { unit, spellings, atUs }: Said): Promise<UnitAlias[]> {
  checkSpellings({ unit, spellings });
  // What is said last counts: they are no longer two units.
  const among = (await store.unitDistinctions()).filter(isAmong([unit, ...spellings]));
  await withdrawn(store, among, atUs);
  const accepted: UnitAlias[] = [];
  for (const spelling of spellings) accepted.push(await store.addUnitAlias({ spelling, unit, createdUs: atUs }));
  await finishStale(store);
  return accepted;
}

/**
 * The unit and the spellings are each a unit of its own, and are not offered as one again. Throws RangeError, and keeps
 * nothing, for what no unit number is, and where two of them count as one.
 */
export async function keepApart(store: Store, { unit, spellings, atUs }: Said): Promise<UnitDistinction[]> {
  checkSpellings({ unit, spellings });
  const all = [unit, ...new Set(spellings)];
  const goesBy = await Promise.all(all.map(async (each) => store.unitName(each)));
  const joined = all.find((_, i) => goesBy.indexOf(goesBy[i]!) !== i);
  if (joined !== undefined)
    throw new RangeError(
      `alias apart requires spellings that count as two units, got ${joined} (alias remove it first)`,
    );
  return store.addUnitDistinctions(
    all.flatMap((one, i) => all.slice(i + 1).map((other) => [one, other] as const)),
    atUs,
  );
}

/** Takes back every alias that names the spelling. Throws RangeError where none does. */
export async function takeBackAliases(store: Store, spelling: string, atUs: number): Promise<UnitAlias[]> {
  const taken = await store.withdrawUnitAliases(spelling, atUs);
  await finishStale(store);
  return taken;
}

/** The two may be one unit again. Throws RangeError where nobody said that they are two. */
export async function askAgain(
  store: Store,
  pair: readonly [string, string],
  atUs: number,
): Promise<UnitDistinction[]> {
  const own = (await store.unitDistinctions()).filter(isAmong(pair));
  if (own.length === 0)
    throw new RangeError(
      `taking back requires a pair that was said to be two units, got ${pair.join(', ')} (alias list)`,
    );
  return withdrawn(store, own, atUs);
}

export type TakenBack = { aliases: UnitAlias[]; apart: UnitDistinction[] };

/** Takes back all that was said of the spelling: of which unit it is, and of which it is not. Throws RangeError for nothing. */
export async function takeBackSaid(store: Store, spelling: string, atUs: number): Promise<TakenBack> {
  const own = (await store.unitDistinctions()).filter(({ unit, other }) => unit === spelling || other === spelling);
  const isNamed = (await store.unitAliases()).some(
    ({ unit, spelling: each }) => unit === spelling || each === spelling,
  );
  // Where nothing at all was said, the store's refusal says so.
  const aliases = isNamed || own.length === 0 ? await takeBackAliases(store, spelling, atUs) : [];
  return { aliases, apart: await withdrawn(store, own, atUs) };
}

async function withdrawn(store: Store, pairs: readonly UnitDistinction[], atUs: number): Promise<UnitDistinction[]> {
  if (pairs.length === 0) return [];
  return store.withdrawUnitDistinctions(
    pairs.map(({ distinctionId }) => distinctionId),
    atUs,
  );
}

function checkSpellings({ unit, spellings }: UnitSpellings): void {
  for (const each of [unit, ...spellings])
    if (each.trim() !== each || each === '')
      throw new RangeError(
        `alias requires a unit number without blanks around it, got ${JSON.stringify(each)} (alias)`,
      );
  if (spellings.includes(unit))
    throw new RangeError(`alias requires another spelling of the unit, got ${unit} (alias)`);
}
