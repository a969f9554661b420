/**
 * Ridge-penalised Poisson regression with an offset: how events come on columns, drawn towards 0.
 *
 * For: a hazard in pieces. A life cut into steps, each with its time watched in the offset, has the likelihood of a
 * piecewise constant hazard (Holford 1980; Laird & Olivier 1981), so that where a step is cut changes nothing.
 * Maximises Σ w·(y·η − e^η) − Σ b²/(2·sd²), η = offset + x·b, by Newton's method with step halving. The maximum is one: concave.
 * What the data leave uncertain is the inverse of the curvature there (Laplace); `effective` is the number of
 * coefficients that the data decide and not the penalty, trace of curvature without penalty times that inverse;
 * `logEvidence` is the log of the likelihood averaged over the penalty as a normal prior, by the same approximation,
 * constants left out (MacKay 1992): of two penalties the one with more explains the data better.
 * Shapes: columns are n values each, offset, events and weight too; sd one per column, Infinity leaves it unpenalised.
 * Throws StatisticsRefusal where columns differ in length or carry the same information. O(n·p²) a step.
 *
 * @example // one column of ones, no penalty: b = log(Σ y / Σ e^offset)
 */
import { choleskyInverse, choleskySolve } from './cholesky.ts';
import { StatisticsRefusal } from './refusal.ts';

export type PoissonRows = {
  columns: readonly Float64Array[];
  offset: Float64Array;
  events: Float64Array;
  weight: Float64Array;
};

export type PoissonRidgeFit = {
  coefficients: Float64Array;
  /** p × p, row by row. */
  covariance: Float64Array;
  effective: number;
  logEvidence: number;
};

const MAX_STEPS = 60; // common practice: ten are enough where a maximum exists
/** A step that raises the value by a smaller share of it is the last: the one after it would be lost in rounding. */
const ENOUGH = 1e-13;
/** How far rounding may lower a sum over all rows. */
const ROUNDING = 1e-10;
const LEAST_SHARE = 1e-6; // common practice: a shorter step is no step

export function poissonRidgeFit(rows: PoissonRows, sd: readonly number[], start?: Float64Array): PoissonRidgeFit {
  check(rows, sd);
  const data = packed(rows);
  const coefficients = climb(data, sd, start ?? new Float64Array(sd.length));
  const { curvature } = slopes(data, coefficients, sd);
  const { inverse: covariance, logDeterminant } = choleskyInverse(curvature, sd.length);
  let effective = sd.length;
  sd.forEach((each, j) => (effective -= covariance[j * sd.length + j]! / each ** 2));
  const logPrior = sd.reduce((sum, each) => sum - (Number.isFinite(each) ? Math.log(each) : 0), 0);
  const logEvidence = penalised(data, coefficients, sd) + logPrior - logDeterminant / 2;
  return { coefficients, covariance, effective, logEvidence };
}

function check(rows: PoissonRows, sd: readonly number[]): void {
  for (const column of [...rows.columns, rows.events, rows.weight])
    if (column.length !== rows.offset.length)
      throw new StatisticsRefusal('poissonRidge', `${rows.offset.length} values, one a row`, column.length, 'rows');
  if (sd.length !== rows.columns.length)
    throw new StatisticsRefusal('poissonRidge', `${rows.columns.length} values, one a column`, sd.length, 'sd');
}

/** Columns laid row behind row: what Newton's method reads a hundred times lies together. */
type Packed = Omit<PoissonRows, 'columns'> & { x: Float64Array };

function packed({ columns, ...rest }: PoissonRows): Packed {
  const [count, width] = [rest.offset.length, columns.length];
  const x = new Float64Array(count * width);
  columns.forEach((column, j) => {
    for (let row = 0; row < count; row++) x[row * width + j] = column[row]!;
  });
  return { ...rest, x };
}

function climb(data: Packed, sd: readonly number[], start: Float64Array): Float64Array {
  let at = start.slice();
  let value = penalised(data, at, sd);
  for (let step = 0; step < MAX_STEPS; step++) {
    const { gradient, curvature } = slopes(data, at, sd);
    const move = choleskySolve(curvature, gradient);
    const gain = move.reduce((sum, each, j) => sum + each * gradient[j]!, 0) / 2;
    const wholeStep = () => at.map((each, j) => each + move[j]!);
    if (gain <= ENOUGH * (1 + Math.abs(value))) return wholeStep();
    let share = 1;
    let next = at;
    let reached = -Infinity;
    while (share > LEAST_SHARE && !(reached >= value)) {
      next = at.map((each, j) => each + share * move[j]!);
      reached = penalised(data, next, sd);
      share /= 2;
    }
    // So near the maximum the value's last digits say nothing more, but Newton's own step still does.
    if (!(reached >= value)) return gain <= ROUNDING * (1 + Math.abs(value)) ? wholeStep() : at;
    at = next;
    value = reached;
  }
  return at;
}

function linear({ x, offset }: Packed, at: Float64Array, row: number): number {
  let sum = offset[row]!;
  for (let j = 0, from = row * at.length; j < at.length; j++) sum += at[j]! * x[from + j]!;
  return sum;
}

function penalised(data: Packed, at: Float64Array, sd: readonly number[]): number {
  let sum = 0;
  for (let row = 0; row < data.offset.length; row++) {
    const eta = linear(data, at, row);
    sum += data.weight[row]! * (data.events[row]! * eta - Math.exp(eta));
  }
  return at.reduce((total, each, j) => total - (each / sd[j]!) ** 2 / 2, sum);
}

function slopes(data: Packed, at: Float64Array, sd: readonly number[]) {
  const size = at.length;
  const { x } = data;
  const gradient = at.map((each, j) => -each / sd[j]! ** 2);
  const curvature = new Float64Array(size * size);
  for (let row = 0, from = 0; row < data.offset.length; row++, from += size) {
    const expected = data.weight[row]! * Math.exp(linear(data, at, row));
    const lack = data.weight[row]! * data.events[row]! - expected;
    for (let j = 0; j < size; j++) {
      const own = x[from + j]!;
      if (own === 0) continue;
      gradient[j]! += lack * own;
      const weighed = expected * own;
      for (let k = 0; k <= j; k++) curvature[j * size + k]! += weighed * x[from + k]!;
    }
  }
  for (let j = 0; j < size; j++) {
    curvature[j * size + j]! += 1 / sd[j]! ** 2;
    for (let k = 0; k < j; k++) curvature[k * size + j] = curvature[j * size + k]!;
  }
  return { gradient, curvature };
}
