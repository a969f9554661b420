import { expect, it } from 'vitest';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { FOLLOWED_DAYS, LANDMARK_STEP_DAYS, landmarksOf } from '../../etl/outlook/landmarks.ts';
import { batteryLife } from '../support/service-lives.ts';

const from = dayNumber('2023-01-01');
const engine = (index: number, days: number, end: 'failure' | 'in_service') => ({
  lives: [
    batteryLife({ unit: `U${index}`, end, watchedFromOn: dateOf(from), watchedToOn: dateOf(from + days) }),
    batteryLife({ unit: `U${index}`, component: 'cables' }),
  ],
});

it('every life is looked at every four weeks from its second week on, never on its last day or after', () => {
  const only = engine(1, 100, 'in_service');
  const days = landmarksOf([only])
    .get(only)!
    .map(({ day }) => day - from);
  expect(days).toEqual([14, 42, 70, 98]);
});

it('a large fleet is thinned evenly, and the weights stand for all', () => {
  const fleet = Array.from({ length: 400 }, (_, k) => engine(k, 1000, k % 2 === 0 ? 'failure' : 'in_service'));
  const all = [...landmarksOf(fleet).values()].flat();
  const each = Math.ceil((1000 - 14) / LANDMARK_STEP_DAYS);
  expect(all.length).toBeLessThanOrEqual(3_200);
  expect(all.reduce((sum, { weight }) => sum + weight, 0) / (400 * each)).toBeCloseTo(1, 2);
  const failing = all.filter(({ life, day }) => life.end === 'failure' && from + 1000 - day <= FOLLOWED_DAYS);
  expect(failing).toHaveLength(200 * 4);
  expect(failing.every(({ weight }) => weight === 1)).toBe(true);
  const units = new Set(all.map(({ life }) => life.unit));
  expect(units.size).toBe(400);
});
