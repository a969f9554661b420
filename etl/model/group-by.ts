/** Rows by a key, in their order. */
export function groupBy<Row>(rows: readonly Row[], key: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const own = groups.get(key(row));
    if (own === undefined) groups.set(key(row), [row]);
    else own.push(row);
  }
  return groups;
}
