import { describe, expect, it } from 'vitest';
import { choleskySolve } from '../../etl/stats/cholesky.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { huberRegression } from '../../etl/stats/robust-regression.ts';
import { expectAllClose, expectClose } from '../support/close.ts';

const random = createRandom(14);
const n = 200;
const ones = new Float64Array(n).fill(1);
const warmth = Float64Array.from({ length: n }, () => 20 * random.normal());
const rest = Float64Array.from({ length: n }, () => 12.6 + 0.1 * random.normal());
const noise = Float64Array.from({ length: n }, () => 0.05 * random.normal());
const y = noise.map((value, i) => 3 - 0.004 * warmth[i]! + 0.8 * rest[i]! + value);

describe('Huber regression', () => {
  it('finds the plane under noise, and stays near it with every tenth point far off', () => {
    const clean = huberRegression([ones, warmth, rest], y);
    const spoilt = huberRegression(
      [ones, warmth, rest],
      y.map((value, i) => (i % 10 === 0 ? value + 40 : value)),
    );
    expect(clean.coefficients[1]).toBeCloseTo(-0.004, 3);
    expect(Math.abs(clean.coefficients[2]! - 0.8)).toBeLessThan(0.15);
    expect(spoilt.coefficients[1]).toBeCloseTo(-0.004, 2);
    expect([clean.converged, spoilt.converged]).toEqual([true, true]);
    expectClose(clean.scale, 0.05, 0.2);
  });

  it('is least squares where no residual is large', () => {
    // Residuals ±1 in equal numbers: all weigh 1, and the mean is the answer.
    const { coefficients } = huberRegression([new Float64Array(4).fill(1)], Float64Array.of(1, 3, 1, 3));
    expectClose(coefficients[0]!, 2, 1e-12);
  });

  it('solves its own equation: the clipped residuals are at right angles to every column', () => {
    const { coefficients, scale } = huberRegression([ones, warmth, rest], y);
    for (const column of [ones, warmth, rest]) {
      let [sum, size] = [0, 0];
      for (let i = 0; i < n; i++) {
        const fitted = coefficients[0]! + coefficients[1]! * warmth[i]! + coefficients[2]! * rest[i]!;
        const clipped = Math.max(-1.345, Math.min(1.345, (y[i]! - fitted) / scale));
        sum += clipped * column[i]!;
        size += Math.abs(clipped * column[i]!);
      }
      expect(Math.abs(sum)).toBeLessThan(1e-6 * size);
    }
  });

  it('follows the points that lie on a line exactly', () => {
    const x = Float64Array.of(0, 1, 2, 3, 4);
    const fit = huberRegression(
      [new Float64Array(5).fill(1), x],
      x.map((value) => 1 + 2 * value),
    );
    expectAllClose(fit.coefficients, [1, 2], 1e-12);
  });

  it('refuses columns that say the same, and too few rows', () => {
    expect(() => huberRegression([ones, ones], y)).toThrow(
      /^choleskySolve requires a positive definite matrix, got \S+ \(pivot 1\)$/,
    );
    expect(() => huberRegression([], y)).toThrow('huberRegression requires at least one column, got 0 (columns)');
    expect(() => huberRegression([Float64Array.of(1)], Float64Array.of(1))).toThrow(
      'huberRegression requires more rows than its 1 columns, got 1 (y)',
    );
    expect(() => huberRegression([ones, warmth.slice(1)], y)).toThrow(
      'huberRegression requires 200 values, got 199 (columns[1])',
    );
    expect(() =>
      huberRegression(
        [ones],
        y.map((value, i) => (i === 3 ? Number.NaN : value)),
      ),
    ).toThrow('huberRegression requires finite values, got NaN (y[3])');
  });
});

describe('Cholesky solution', () => {
  it('times the matrix is the right side', () => {
    const matrix = Float64Array.of(4, 2, 0.6, 2, 5, 1, 0.6, 1, 3);
    const right = Float64Array.of(1, -2, 7);
    const x = choleskySolve(matrix, right);
    const back = [0, 1, 2].map((i) => matrix[3 * i]! * x[0]! + matrix[3 * i + 1]! * x[1]! + matrix[3 * i + 2]! * x[2]!);
    expectAllClose(back, right, 1e-13);
  });
});
