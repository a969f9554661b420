/**
 * Linear regression by Huber's M-estimator: least squares that stops listening to outliers.
 *
 * For: pooled slopes of temperature and rest voltage in a class, in which odd days must not count.
 * Valid for more rows than columns, columns not collinear; protects against outliers in y, not in the columns.
 * Shapes: each column n values (an intercept is a column of ones, given by the caller), y n values. Coefficients in the
 * unit of y over that of their column; `scale` in the unit of y.
 * Method: iteratively reweighted least squares from the least-squares fit, weight min(1, k/|r/scale|), scale the median
 * of |residuals| times 1.4826, anew at each round (Huber 1981; as rlm of R's MASS). k = 1.345: 95 % efficiency at the
 * normal distribution. O(n·p²) a round.
 * Throws StatisticsRefusal for unequal lengths, a value that is not finite, no more rows than columns, collinear columns.
 *
 * @example huberRegression([ones, air, water, acid], loss).coefficients // stack loss: −41.03, 0.829, 0.926, −0.128
 */
import { choleskySolve } from './cholesky.ts';
import { median, NORMAL_SD_PER_MAD } from './quantile.ts';
import { StatisticsRefusal } from './refusal.ts';

export type HuberRegression = { coefficients: Float64Array; scale: number; converged: boolean };

/** Huber 1964: 95 % efficiency at the normal distribution. */
const HUBER_K = 1.345;
const MAX_ROUNDS = 200;
/** Change of the residuals, relative to the scale, at which the rounds end. */
const STILL = 1e-9;

export function huberRegression(columns: readonly Float64Array[], y: Float64Array): HuberRegression {
  check(columns, y);
  const weight = new Float64Array(y.length).fill(1);
  let coefficients = weightedLeastSquares(columns, y, weight);
  let residuals = residualsOf(columns, y, coefficients);
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const scale = NORMAL_SD_PER_MAD * median(residuals.map(Math.abs));
    // More than half the points lie on the line exactly: it is the answer, and there is no scale to weigh by.
    if (scale === 0) return { coefficients, scale, converged: true };
    for (let i = 0; i < weight.length; i++) weight[i] = Math.min(1, (HUBER_K * scale) / Math.abs(residuals[i]!));
    coefficients = weightedLeastSquares(columns, y, weight);
    const next = residualsOf(columns, y, coefficients);
    const change = next.reduce((most, residual, i) => Math.max(most, Math.abs(residual - residuals[i]!)), 0);
    residuals = next;
    if (change < STILL * scale) return { coefficients, scale, converged: true };
  }
  return { coefficients, scale: NORMAL_SD_PER_MAD * median(residuals.map(Math.abs)), converged: false };
}

function weightedLeastSquares(columns: readonly Float64Array[], y: Float64Array, weight: Float64Array): Float64Array {
  const size = columns.length;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    right[j] = weightedProduct(columns[j]!, y, weight);
    for (let k = 0; k <= j; k++) {
      normal[j * size + k] = normal[k * size + j] = weightedProduct(columns[j]!, columns[k]!, weight);
    }
  }
  return choleskySolve(normal, right);
}

function weightedProduct(a: Float64Array, b: Float64Array, weight: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weight[i]! * a[i]! * b[i]!;
  return sum;
}

function residualsOf(columns: readonly Float64Array[], y: Float64Array, coefficients: Float64Array): Float64Array {
  const residuals = y.slice();
  for (let j = 0; j < columns.length; j++) {
    const column = columns[j]!;
    const coefficient = coefficients[j]!;
    for (let i = 0; i < residuals.length; i++) residuals[i]! -= coefficient * column[i]!;
  }
  return residuals;
}

function check(columns: readonly Float64Array[], y: Float64Array): void {
  const what = 'huberRegression';
  if (columns.length === 0) throw new StatisticsRefusal(what, 'at least one column', 0, 'columns');
  if (y.length <= columns.length) {
    throw new StatisticsRefusal(what, `more rows than its ${columns.length} columns`, y.length, 'y');
  }
  for (const [name, column] of [...columns.map((column, j) => [`columns[${j}]`, column] as const), ['y', y] as const]) {
    if (column.length !== y.length) throw new StatisticsRefusal(what, `${y.length} values`, column.length, name);
    const odd = column.findIndex((value) => !Number.isFinite(value));
    if (odd >= 0) throw new StatisticsRefusal(what, 'finite values', column[odd]!, `${name}[${odd}]`);
  }
}
