import { describe, expect, it } from 'vitest';
import { newtonMaximum, type Expansion } from '../../etl/stats/newton-maximum.ts';

const quadratic = (x: Float64Array): Expansion => ({
  value: -((x[0]! - 3) ** 2) - 2 * (x[1]! + 1) ** 2 + x[0]! * x[1]!,
  gradient: Float64Array.of(-2 * (x[0]! - 3) + x[1]!, -4 * (x[1]! + 1) + x[0]!),
  hessian: Float64Array.of(-2, 1, 1, -4),
});

/** A bell, whose Hessian is not negative definite beyond one sd: an undamped step from there runs away. */
const bell = (x: Float64Array): Expansion => {
  const value = Math.exp(-0.5 * x[0]! ** 2);
  return {
    value,
    gradient: Float64Array.of(-x[0]! * value),
    hessian: Float64Array.of((x[0]! ** 2 - 1) * value),
  };
};

describe('Newton’s maximum', () => {
  it('of a quadratic is where the gradient is nothing', () => {
    const { x, converged } = newtonMaximum(quadratic, Float64Array.of(50, -70));
    expect(x[0]).toBeCloseTo(20 / 7, 10);
    expect(x[1]).toBeCloseTo(-2 / 7, 10);
    expect(converged).toBe(true);
  });

  it('is found from where the curvature has the wrong sign', () => {
    const { x, converged } = newtonMaximum(bell, Float64Array.of(2.5));
    expect(x[0]).toBeCloseTo(0, 8);
    expect(converged).toBe(true);
  });

  it('is not claimed of what climbs for ever, or out of bounds', () => {
    const climbing = (x: Float64Array): Expansion => ({
      value: x[0]!,
      gradient: Float64Array.of(1),
      hessian: Float64Array.of(0),
    });
    expect(newtonMaximum(climbing, Float64Array.of(0), (x) => x[0]! < 100).converged).toBe(false);
  });
});
