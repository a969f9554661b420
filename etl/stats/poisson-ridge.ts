/**
 * Ridge-penalised Poisson regression with an offset: how events come on columns, drawn towards 0.
 *
 * For: a hazard in pieces. A life cut into steps, each with its time watched in the offset, has the likelihood of a
 * piecewise constant hazard (Holford 1980; Laird & Olivier 1981), so that where a step is cut changes nothing.
 * Maximises Σ w·(y·η − e^η) − Σ b²/(2·sd²), η = offset + x·b, by Newton's method with step halving. The maximum is one: concave.
 * Shapes: columns are n values each, offset, events and weight too; sd one per column, Infinity leaves it unpenalised.
 * Throws StatisticsRefusal where columns differ in length or carry the same information. O(n·p²) a step.
 *
 * @example // one column of ones, no penalty: b = log(Σ y / Σ e^offset)
 */
import { choleskySolve } from './cholesky.ts';
import { StatisticsRefusal } from './refusal.ts';

export type PoissonRows = {
  columns: readonly Float64Array[];
  offset: Float64Array;
  events: Float64Array;
  weight: Float64Array;
};

const MAX_STEPS = 60; // common practice: ten are enough where a maximum exists
const ENOUGH = 1e-10;

export function poissonRidge(rows: PoissonRows, sd: readonly number[]): Float64Array {
  for (const column of [...rows.columns, rows.events, rows.weight])
    if (column.length !== rows.offset.length)
      throw new StatisticsRefusal('poissonRidge', `${rows.offset.length} values, one a row`, column.length, 'rows');
  if (sd.length !== rows.columns.length)
    throw new StatisticsRefusal('poissonRidge', `${rows.columns.length} values, one a column`, sd.length, 'sd');
  let at = new Float64Array(sd.length);
  let value = penalised(rows, at, sd);
  for (let step = 0; step < MAX_STEPS; step++) {
    const move = newtonMove(rows, at, sd);
    let share = 1;
    let next = at;
    let reached = -Infinity;
    while (share > ENOUGH && !(reached >= value)) {
      next = at.map((each, j) => each + share * move[j]!);
      reached = penalised(rows, next, sd);
      share /= 2;
    }
    if (!(reached >= value)) break;
    at = next;
    value = reached;
    if (move.every((each) => Math.abs(each) < ENOUGH)) break;
  }
  return at;
}

function linear({ columns, offset }: PoissonRows, at: Float64Array, row: number): number {
  let sum = offset[row]!;
  for (let j = 0; j < at.length; j++) sum += at[j]! * columns[j]![row]!;
  return sum;
}

function penalised(rows: PoissonRows, at: Float64Array, sd: readonly number[]): number {
  let sum = 0;
  for (let row = 0; row < rows.offset.length; row++) {
    const eta = linear(rows, at, row);
    sum += rows.weight[row]! * (rows.events[row]! * eta - Math.exp(eta));
  }
  return at.reduce((total, each, j) => total - (each / sd[j]!) ** 2 / 2, sum);
}

function newtonMove(rows: PoissonRows, at: Float64Array, sd: readonly number[]): Float64Array {
  const size = at.length;
  const gradient = at.map((each, j) => -each / sd[j]! ** 2);
  const curvature = new Float64Array(size * size);
  for (let j = 0; j < size; j++) curvature[j * size + j] = 1 / sd[j]! ** 2;
  for (let row = 0; row < rows.offset.length; row++) {
    const expected = rows.weight[row]! * Math.exp(linear(rows, at, row));
    const lack = rows.weight[row]! * rows.events[row]! - expected;
    for (let j = 0; j < size; j++) {
      const x = rows.columns[j]![row]!;
      gradient[j]! += lack * x;
      for (let k = 0; k < size; k++) curvature[j * size + k]! += expected * x * rows.columns[k]![row]!;
    }
  }
  return choleskySolve(curvature, gradient);
}
