/** What a person says: rows that name `spelling` speak of `unit`. */
export type UnitAlias = {
  aliasId: number;
  spelling: string;
  unit: string;
  createdUs: number;
  /** When it was taken back; null while it stands. */
  withdrawnUs: number | null;
};

/** What a person says: `unit` and `other` are two units, alike as they look. */
export type UnitDistinction = {
  distinctionId: number;
  unit: string;
  other: string;
  createdUs: number;
  /** When it was taken back; null while it stands. */
  withdrawnUs: number | null;
};

/** Tells of a pair that is said to be two units whether both are among the names. */
export function isAmong(names: readonly string[]): (pair: Pick<UnitDistinction, 'unit' | 'other'>) => boolean {
  return ({ unit, other }) => names.includes(unit) && names.includes(other);
}

/** All spellings of one unit, sorted; `unit` is the one that it goes by. */
export type UnitSpellings = { unit: string; spellings: readonly string[] };

type Pair = Pick<UnitAlias, 'spelling' | 'unit'>;

/**
 * Which spellings are one unit. It goes by the spelling of the register; where none or several of them stand there, by
 * one that nobody said to be another, at a tie the first in order. Depends on the set of aliases and on the register
 * alone, so that files and aliases may come in any order.
 *
 * Example: T014 → T-014 and t 014 → T014 are one unit of three spellings: T-014.
 */
export function spellingGroups(aliases: readonly Pair[], isRegistered: (spelling: string) => boolean): UnitSpellings[] {
  const groupOf = new Map<string, Set<string>>();
  for (const { spelling, unit } of aliases) {
    const joined = new Set([spelling, unit].flatMap((each) => [each, ...(groupOf.get(each) ?? [])]));
    for (const each of joined) groupOf.set(each, joined);
  }
  const said = new Set(aliases.map(({ spelling }) => spelling));
  return [...new Set(groupOf.values())].map((group) => {
    const spellings = [...group].sort();
    const registered = whereAny(spellings, isRegistered);
    return { unit: whereAny(registered, (each) => !said.has(each))[0]!, spellings };
  });
}

/** Those that fit, or all where none does. */
function whereAny(spellings: readonly string[], fits: (spelling: string) => boolean): readonly string[] {
  const fitting = spellings.filter(fits);
  return fitting.length > 0 ? fitting : spellings;
}
