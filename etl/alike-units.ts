/**
 * Unit numbers that differ only in case, blanks and marks (`T-014`, `T014`, `t 014`): perhaps one unit. A mark between
 * digits counts (`1-23` is not `12-3`), which one does not. Of a number alone, which a spreadsheet or a column with gaps
 * takes for a quantity, leading noughts and `.0` do not count (`0042`, `42`, `42.0`). Each group sorted, but for the registered one, if it is one
 * alone, which comes first: the others may be further spellings of it.
 */
export function alikeUnits(registered: readonly string[], waiting: readonly string[]): string[][] {
  const groups = new Map<string, Set<string>>();
  for (const unit of [...registered, ...waiting]) {
    const bare = bareNumber(unit);
    if (bare === '') continue;
    const group = groups.get(bare) ?? new Set<string>();
    groups.set(bare, group.add(unit));
  }
  const known = new Set(registered);
  return [...groups.values()]
    .filter((group) => group.size > 1)
    .map((group) => registeredFirst([...group].sort(), known))
    .sort((a, b) => Number(a[0]! > b[0]!) - Number(a[0]! < b[0]!));
}

/**
 * What of a group is still to be said, where people said of some that they are two units: each with those that may yet
 * be the same as it.
 *
 * @example // A, a, á of which A and a are two units: A and á; of which all are apart: nothing
 */
export function undecided(group: readonly string[], isApart: (unit: string, other: string) => boolean): string[][] {
  const [first, ...rest] = group;
  if (first === undefined) return [];
  const maybe = rest.filter((each) => !isApart(first, each));
  const apart = rest.filter((each) => isApart(first, each));
  return [...(maybe.length === 0 ? [] : [[first, ...maybe]]), ...undecided(apart, isApart)];
}

function bareNumber(unit: string): string {
  // A spreadsheet that is to keep a text writes marks about it: ="014", '014.
  const one = unit
    .normalize('NFKC')
    .toLowerCase()
    .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '');
  const number = /^0*(\d+)(?:\.0+)?$/.exec(one);
  if (number !== null) return number[1]!;
  return one.replace(/(?<=\p{N})[^\p{L}\p{N}]+(?=\p{N})/gu, '\0').replace(/[^\p{L}\p{N}\0]/gu, '');
}

function registeredFirst(group: readonly string[], known: ReadonlySet<string>): string[] {
  const registered = group.filter((unit) => known.has(unit));
  const first = registered.length === 1 ? registered : [];
  return [...first, ...group.filter((unit) => !first.includes(unit))];
}
