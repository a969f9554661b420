import { expect, it } from 'vitest';
import { pathOnDay } from '../../etl/outlook/path-on-day.ts';
import { INDEX_DAYS } from '../../etl/trends/indicator-summary.ts';

const FIRST = 957 * INDEX_DAYS;
/** Ten points of three whole weeks each, dated at their middle. */
const path = {
  day: Float64Array.from({ length: 10 }, (_, k) => FIRST + k * INDEX_DAYS + 10),
  value: Float64Array.from({ length: 10 }, (_, k) => k),
};
const endOf = (point: number) => FIRST + (point + 1) * INDEX_DAYS - 1;
const newestOn = (lastDay: number) => ({ value: 99, day: lastDay - 10, lastDay });

it('a point whose three weeks are not over was none yet', () => {
  expect([...pathOnDay(path, endOf(5) - 1, null)!.value]).toEqual([0, 1, 2, 3, 4]);
  expect([...pathOnDay(path, endOf(5), null)!.value]).toEqual([0, 1, 2, 3, 4, 5]);
});

it('ends in the newest three weeks, and no day is in it mostly twice', () => {
  expect([...pathOnDay(path, endOf(5), newestOn(endOf(5)))!.value]).toEqual([0, 1, 2, 3, 4, 99]);
  expect([...pathOnDay(path, endOf(5) + 10, newestOn(endOf(5) + 10))!.value]).toEqual([0, 1, 2, 3, 4, 99]);
  const halfOver = pathOnDay(path, endOf(5) + 11, newestOn(endOf(5) + 11))!;
  expect([...halfOver.value]).toEqual([0, 1, 2, 3, 4, 5, 99]);
  expect(halfOver.day.at(-1)).toBe(endOf(5) + 1);
});

it('says nothing with too few points, or of a day long after the last', () => {
  expect(pathOnDay(path, endOf(1), null)).toBeNull();
  expect(pathOnDay(path, endOf(1) + 15, newestOn(endOf(1) + 15))).not.toBeNull();
  expect(pathOnDay(path, path.day[9]! + 51, null)).not.toBeNull();
  expect(pathOnDay(path, path.day[9]! + 52, null)).toBeNull();
});
