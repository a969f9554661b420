/** Unit numbers that differ only in case, blanks and marks (`T-014`, `T014`, `t 014`): perhaps one unit. Sorted. */
export function alikeUnits(units: readonly string[]): string[][] {
  const groups = new Map<string, Set<string>>();
  for (const unit of units) {
    const bare = unit.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
    const group = groups.get(bare) ?? new Set<string>();
    groups.set(bare, group.add(unit));
  }
  return [...groups.values()]
    .filter((group) => group.size > 1)
    .map((group) => [...group].sort())
    .sort((a, b) => Number(a[0]! > b[0]!) - Number(a[0]! < b[0]!));
}
