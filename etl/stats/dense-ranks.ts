/**
 * Dense ranks: 1 for the lowest value, 2 for the next, the same rank for equal values.
 *
 * For: counting over values by their order. Valid for numbers that are not NaN. Plain integers. O(n log n).
 *
 * @example denseRanks(Float64Array.of(0.3, 0.1, 0.3)) // ranks 2, 1, 2; count 2
 */
export type DenseRanks = { ranks: Int32Array; count: number };

export function denseRanks(values: Float64Array): DenseRanks {
  const sorted = values.slice().sort();
  let count = 0;
  for (let i = 0; i < sorted.length; i++) if (i === 0 || sorted[i] !== sorted[i - 1]) sorted[count++] = sorted[i]!;
  const ranks = new Int32Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    let [low, high] = [0, count - 1];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < value) low = middle + 1;
      else high = middle;
    }
    ranks[i] = low + 1;
  }
  return { ranks, count };
}

/** Row numbers by ascending rank (counting sort). */
export function inRankOrder({ ranks, count }: DenseRanks): Int32Array {
  const next = new Int32Array(count + 2);
  for (const rank of ranks) next[rank + 1]!++;
  for (let rank = 1; rank < next.length; rank++) next[rank]! += next[rank - 1]!;
  const order = new Int32Array(ranks.length);
  ranks.forEach((rank, row) => (order[next[rank]!++] = row));
  return order;
}
