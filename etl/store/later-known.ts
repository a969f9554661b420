/** What the rule of the later known looks at. */
export type Known = { knownUs: number; contentHash: string };

/**
 * Of several rows under one key the later known wins, at a tie the greater content hash. Depends on the set of rows
 * alone, not on their order, so files may come in any order.
 *
 * Example: `T-014` entered on 1 March and again on 5 April → the row of 5 April.
 */
export function laterKnown<Row extends Known>(rows: Iterable<Row>, keyOf: (row: Row) => string): Row[] {
  const best = new Map<string, Row>();
  for (const row of rows) {
    const key = keyOf(row);
    const standing = best.get(key);
    if (!standing || isLater(row, standing)) best.set(key, row);
  }
  return [...best.values()];
}

/** What was read of a row, without where it stands and when it was known. */
export function bare<Row extends Known & { importId: number; line: number }>(row: Row) {
  const { importId: _, line: __, contentHash: ___, knownUs: ____, ...rest } = row;
  return rest;
}

/** Order of texts by their code units: the same on every machine. */
export function byText(a: string, b: string): number {
  return Number(a > b) - Number(a < b);
}

function isLater(row: Known, than: Known): boolean {
  return row.knownUs === than.knownUs ? row.contentHash > than.contentHash : row.knownUs > than.knownUs;
}
