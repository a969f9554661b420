/**
 * The first `count` values in ascending order, by insertion.
 *
 * For: the handful of values of a day or a week, of which a fleet has ten million: quicker than any other sort of so few
 * and no memory of its own. Valid for values without NaN. O(count²): for some dozen values at most. Throws nothing.
 *
 * @example insertionSort(Float64Array.of(3, 1, 2, 0), 3) // the array is then 1, 2, 3, 0
 */
export function insertionSort(values: Float64Array, count: number): void {
  for (let i = 1; i < count; i++) {
    const value = values[i]!;
    let at = i;
    while (at > 0 && values[at - 1]! > value) {
      values[at] = values[at - 1]!;
      at--;
    }
    values[at] = value;
  }
}

/** Up to so many values it is the quickest. */
export const FEW_VALUES = 32;
