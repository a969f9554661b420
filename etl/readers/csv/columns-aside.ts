/**
 * Columns of a header that are not read: those that no field is called by, and the second of two with one name. A column
 * without a name, as a comma at the end of each row makes it, is none.
 *
 * @example columnsAside(['unit', 'volts', 'volts', 'remark', ''], ['unit', 'volts']) // → ['volts (second)', 'remark']
 */
export function columnsAside(columns: readonly string[], known: readonly string[]): string[] {
  return columns.flatMap((column, index) => {
    if (column === '') return [];
    if (!known.includes(column)) return [column];
    return columns.indexOf(column) === index ? [] : [`${column} (second)`];
  });
}

/** The header with every name once: of two columns with one name the first counts. */
export function firstOfEachName(columns: readonly string[]): string[] {
  return columns.map((column, index) => (columns.indexOf(column) === index ? column : ''));
}
