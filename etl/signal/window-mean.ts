/** Mean of `count` values from index `from` on; NaN if there are none. */
export function windowMean(values: Float64Array, from: number, count: number): number {
  let sum = 0;
  for (let i = from; i < from + count; i++) sum += values[i]!;
  return sum / count;
}
