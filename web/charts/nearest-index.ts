/** The index of the nearest of ascending numbers, by halving; of two as near the earlier. Requires one or more. */
export function nearestIndex(ascending: readonly number[], wanted: number): number {
  let [from, to] = [0, ascending.length - 1];
  while (to - from > 1) {
    const middle = (from + to) >> 1;
    if (ascending[middle]! <= wanted) from = middle;
    else to = middle;
  }
  return Math.abs(ascending[to]! - wanted) < Math.abs(ascending[from]! - wanted) ? to : from;
}
