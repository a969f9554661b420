import { expect, it } from 'vitest';
import { hazardRow } from '../../etl/outlook/hazard-rows.ts';
import { fitLifeModels } from '../../etl/outlook/life-model.ts';
import type { NewestPoint } from '../../etl/outlook/path-on-day.ts';
import { fitWearModel, type PathOfLife } from '../../etl/outlook/wear-model.ts';
import { INDEX_DAYS } from '../../etl/trends/indicator-summary.ts';
import { batteryLife } from '../support/service-lives.ts';

/** The three weeks of an index are counted from day 0. */
const PERIOD = 957;
const FIRST = PERIOD * INDEX_DAYS;
/** Dated in the middle of its three weeks. */
const middles = Float64Array.from({ length: 20 }, (_, k) => FIRST + k * INDEX_DAYS + (INDEX_DAYS - 1) / 2);

const climbing = (pace: number): PathOfLife => ({
  path: { day: middles, value: middles.map((_, k) => pace * k) },
  failed: pace > 0.15,
});
const models = {
  lives: fitLifeModels([]).battery,
  wear: fitWearModel([0.02, 0.05, 0.1, 0.18, 0.2, 0.25, 0, 0.01].map(climbing)),
  usual: {},
};

/** A landmark `days` after the beginning of the tenth three weeks, whose path jumps in them. */
function rowAt(days: number, jump: number, newest: NewestPoint | null = null) {
  const value = middles.map((_, k) => (k === 10 ? jump : 0));
  const day = FIRST + 10 * INDEX_DAYS + days;
  const path = { day: middles, value };
  const seen = { life: batteryLife(), day, weight: 1, path, newest, readings: {}, troubles: 0 };
  return hazardRow(seen, models, day);
}

it('a landmark is told nothing of three weeks that are not over, and all of those that are', () => {
  const [calm, jumped] = [0, 5].map((jump) => rowAt(INDEX_DAYS - 2, jump));
  expect(jumped!.expected).toEqual(calm!.expected);
  const [over, jumpedOver] = [0, 5].map((jump) => rowAt(INDEX_DAYS - 1, jump));
  expect(jumpedOver!.expected[0]).toBeGreaterThan(2 * over!.expected[0]!);
});

it('a path that ends in the newest three weeks says what they say', () => {
  const lastDay = FIRST + 10 * INDEX_DAYS + INDEX_DAYS - 2;
  const at = (value: number) => rowAt(INDEX_DAYS - 2, 0, { value, day: lastDay - 10, lastDay }).expected[0]!;
  expect(at(5)).toBeGreaterThan(2 * at(0));
});
