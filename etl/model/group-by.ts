/** Rows by a key, in their order. */
export function groupBy<Row, Key = string>(rows: readonly Row[], key: (row: Row) => Key): Map<Key, Row[]> {
  const groups = new Map<Key, Row[]>();
  for (const row of rows) {
    const own = groups.get(key(row));
    if (own === undefined) groups.set(key(row), [row]);
    else own.push(row);
  }
  return groups;
}
