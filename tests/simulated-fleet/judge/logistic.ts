import { choleskySolve } from '../../../etl/stats/cholesky.ts';

export type LogisticRow = { x: readonly number[]; failed: number };

const STEPS = 12;
const RIDGE = 1;

/** Logistic regression by Newton's method; all but the first column are drawn to 0 a little. */
export function logistic(rows: readonly LogisticRow[], columns: number): Float64Array {
  let b = new Float64Array(columns);
  b[0] = -5;
  for (let step = 0; step < STEPS; step++) {
    const { gradient, curvature } = newton(rows, b);
    const move = choleskySolve(curvature, gradient);
    b = b.map((each, j) => each + Math.max(-1, Math.min(1, move[j]!)));
  }
  return b;
}

export function chanceOf(x: readonly number[], b: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < b.length; j++) sum += x[j]! * b[j]!;
  return 1 / (1 + Math.exp(-sum));
}

function newton(rows: readonly LogisticRow[], b: Float64Array) {
  const size = b.length;
  const [gradient, curvature] = [new Float64Array(size), new Float64Array(size * size)];
  for (const { x, failed } of rows) {
    const p = chanceOf(x, b);
    for (let i = 0; i < size; i++) {
      gradient[i]! += (failed - p) * x[i]!;
      for (let j = 0; j < size; j++) curvature[size * i + j]! += p * (1 - p) * x[i]! * x[j]!;
    }
  }
  for (let i = 0; i < size; i++) {
    if (i > 0) gradient[i]! -= RIDGE * b[i]!;
    curvature[(size + 1) * i]! += i > 0 ? RIDGE : 1e-6;
  }
  return { gradient, curvature };
}
