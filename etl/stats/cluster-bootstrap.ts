/**
 * Bootstrap by cluster: rows that belong together are drawn together.
 *
 * For: intervals of scores over forecasts of which one unit gives many. Units are drawn with replacement, as many as
 * there are, and bring all their rows (Field & Welsh 2007). The interval is that of the percentiles.
 * Seeded: the same seed, the same draws, whatever is computed on them. `draw` hands over row numbers.
 * Throws StatisticsRefusal for no clusters or a confidence outside 0 to 1.
 *
 * @example percentileInterval(clusterDraws(unitOfRow, { seed: 1, count: 200 }).map((rows) => mean(rows)), 0.95)
 */
import { quantile } from './quantile.ts';
import { createRandom } from './random.ts';
import { StatisticsRefusal } from './refusal.ts';

export function clusterDraws(
  clusterOfRow: readonly string[],
  { seed, count }: { seed: number; count: number },
): Int32Array[] {
  const rowsOf = new Map<string, number[]>();
  clusterOfRow.forEach((cluster, row) => {
    const own = rowsOf.get(cluster);
    if (own === undefined) rowsOf.set(cluster, [row]);
    else own.push(row);
  });
  // Sorted, so that the order of the rows does not decide what is drawn.
  const clusters = [...rowsOf].sort(([a], [b]) => Number(a > b) - Number(a < b)).map(([, rows]) => rows);
  if (clusters.length === 0) throw new StatisticsRefusal('clusterDraws', 'at least one cluster', 0, 'clusterOfRow');
  const random = createRandom(seed, 'cluster bootstrap');
  return Array.from({ length: count }, () => {
    const drawn = clusters.map(() => clusters[Math.floor(random.uniform() * clusters.length)]!);
    return Int32Array.from(drawn.flat());
  });
}

/** Null where fewer than half of the draws gave an answer. */
export function percentileInterval(
  values: readonly (number | null)[],
  confidence = 0.95,
): { low: number; high: number } | null {
  if (!(confidence > 0 && confidence < 1))
    throw new StatisticsRefusal('percentileInterval', 'a confidence between 0 and 1', confidence, 'confidence');
  const known = values.filter((value) => value !== null);
  if (known.length === 0 || known.length < values.length / 2) return null;
  return { low: quantile(known, (1 - confidence) / 2), high: quantile(known, (1 + confidence) / 2) };
}
