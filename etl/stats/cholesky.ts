/**
 * Solution of a small symmetric positive definite system A·x = b.
 *
 * For: normal equations of a regression with a few columns. Valid while A is positive definite in double precision.
 * Shapes: A is p × p, row by row in one array; b has p values. Units: those of b over those of A.
 * Formula: A = L·Lᵀ (Cholesky), then two triangular systems. O(p³).
 * Throws StatisticsRefusal where A is not positive definite: two columns carry the same information.
 *
 * @example choleskySolve(Float64Array.of(4, 2, 2, 3), Float64Array.of(2, 3)) // [0, 1]
 */
import { StatisticsRefusal } from './refusal.ts';

/** A pivot below this share of its diagonal has lost all its digits: common practice, some ten thousand rounding errors. */
const PIVOT_SHARE = 1e-12;

export function choleskySolve(matrix: Float64Array, right: Float64Array): Float64Array {
  const lower = choleskyFactor(matrix, right.length);
  if ('pivot' in lower)
    throw new StatisticsRefusal('choleskySolve', 'a positive definite matrix', lower.value, `pivot ${lower.pivot}`);
  return substituted(lower, right);
}

/** The same, with null where A is not positive definite: for a caller that can do something about it. */
export function choleskySolveIfDefinite(matrix: Float64Array, right: Float64Array): Float64Array | null {
  const lower = choleskyFactor(matrix, right.length);
  return 'pivot' in lower ? null : substituted(lower, right);
}

function substituted(lower: Float64Array, right: Float64Array): Float64Array {
  const size = right.length;
  const x = right.slice();
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i * size + k]! * x[k]!;
    x[i]! /= lower[i * size + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) x[i]! -= lower[k * size + i]! * x[k]!;
    x[i]! /= lower[i * size + i]!;
  }
  return x;
}

/** L, or the first pivot that is lost and its value. */
function choleskyFactor(matrix: Float64Array, size: number): Float64Array | { pivot: number; value: number } {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * size + k]! * lower[j * size + k]!;
      if (i > j) {
        lower[i * size + j] = sum / lower[j * size + j]!;
        continue;
      }
      if (!(sum > PIVOT_SHARE * matrix[i * size + i]!)) return { pivot: i, value: sum };
      lower[i * size + i] = Math.sqrt(sum);
    }
  }
  return lower;
}

/** A⁻¹, p × p row by row, and log |A|. O(p³). Throws as `choleskySolve`. */
export function choleskyInverse(matrix: Float64Array, size: number): { inverse: Float64Array; logDeterminant: number } {
  const lower = choleskyFactor(matrix, size);
  if ('pivot' in lower)
    throw new StatisticsRefusal('choleskyInverse', 'a positive definite matrix', lower.value, `pivot ${lower.pivot}`);
  const inverse = new Float64Array(size * size);
  let logDeterminant = 0;
  for (let j = 0; j < size; j++) {
    logDeterminant += 2 * Math.log(lower[j * size + j]!);
    const unit = new Float64Array(size);
    unit[j] = 1;
    inverse.set(substituted(lower, unit), j * size);
  }
  return { inverse, logDeterminant };
}
