import { expect } from 'vitest';

/** Equal within a relative tolerance; an expected 0 is met within the tolerance itself. */
export function expectClose(actual: number, expected: number, tolerance: number): void {
  const off = Math.abs(actual - expected) / (expected === 0 ? 1 : Math.abs(expected));
  expect(off, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
}

/** The same, value by value. */
export function expectAllClose(actual: ArrayLike<number>, expected: ArrayLike<number>, tolerance: number): void {
  expect(actual.length).toBe(expected.length);
  for (let i = 0; i < expected.length; i++) expectClose(actual[i]!, expected[i]!, tolerance);
}
