/** Confusion matrices and what follows from them. */
export type Confusion = Record<string, Record<string, number>>;

export function confusionOf(pairs: readonly { truth: string; said: string }[]): Confusion {
  const table: Confusion = {};
  for (const { truth, said } of pairs) {
    const row = (table[truth] ??= {});
    row[said] = (row[said] ?? 0) + 1;
  }
  return table;
}

/** Mean over the classes that truly occur of the harmonic mean of recall and precision. */
export function macroF1(table: Confusion): number {
  const classes = Object.keys(table);
  const scores = classes.map((name) => {
    const hits = table[name]![name] ?? 0;
    const ofClass = Object.values(table[name]!).reduce((sum, count) => sum + count, 0);
    const saidSo = classes.reduce((sum, other) => sum + (table[other]![name] ?? 0), 0);
    return (2 * hits) / (ofClass + saidSo);
  });
  return Math.round((1e4 * scores.reduce((sum, value) => sum + value, 0)) / scores.length) / 1e4;
}

export function accuracy(table: Confusion): number {
  const all = Object.values(table).flatMap((row) => Object.values(row));
  const hits = Object.keys(table).reduce((sum, name) => sum + (table[name]![name] ?? 0), 0);
  return Math.round((1e4 * hits) / all.reduce((sum, count) => sum + count, 0)) / 1e4;
}

/** A matrix as lines of text: truth down, answer across. */
export function matrixText(table: Confusion): string {
  const rows = Object.keys(table).sort();
  const columns = [...new Set(rows.flatMap((name) => Object.keys(table[name]!)))].sort();
  const wide = Math.max(...rows.map((name) => name.length), 6) + 2;
  const line = (head: string, cells: readonly string[]) =>
    head.padEnd(wide) + cells.map((cell) => cell.padStart(14)).join('');
  return [
    line('truth', columns),
    ...rows.map((name) =>
      line(
        name,
        columns.map((column) => String(table[name]![column] ?? '')),
      ),
    ),
  ].join('\n');
}
