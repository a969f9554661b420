/**
 * Variance of Kendall's score S of a series without trend, corrected for equal values.
 *
 * For: the Mann–Kendall test and the interval of the Theil–Sen slope. Valid for independent values; S counts rising
 * minus falling pairs, so no unit. (n(n−1)(2n+5) − Σ g(g−1)(2g+5))/18 over groups of g equal values (Kendall 1975).
 *
 * @example kendallVariance(Float64Array.of(1, 2, 3, 4, 5, 16, 7)) // 44.333…
 */
export function kendallVariance(values: Float64Array): number {
  const sorted = values.slice().sort();
  let sum = term(sorted.length);
  let group = 1;
  for (let i = 1; i <= sorted.length; i++) {
    if (i < sorted.length && sorted[i] === sorted[i - 1]) {
      group++;
    } else {
      sum -= term(group);
      group = 1;
    }
  }
  return sum / 18;
}

function term(n: number): number {
  return n * (n - 1) * (2 * n + 5);
}
