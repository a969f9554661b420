import { expect, it } from 'vitest';
import { newestWeeksOn } from '../../etl/trends/newest-weeks.ts';

/** Every other day, values 0, 1, 2, … */
const day = Int32Array.from({ length: 60 }, (_, k) => 20_000 + 2 * k);
const value = Float64Array.from(day, (_, k) => k);

it('the three weeks up to the newest day that was seen, by hand', () => {
  // Days 20,018 to 20,038: the 9th to the 19th.
  const seen = { value: 14, day: 20_028, lastDay: 20_038 };
  expect(newestWeeksOn(day, value, { fromDay: 0, onDay: 20_038 })).toEqual(seen);
  expect(newestWeeksOn(day, value, { fromDay: 0, onDay: 20_039 })).toEqual(seen);
});

it('a day of the past reads as it read on that day, and nothing of the part before', () => {
  const onDay = 20_057;
  const known = day.filter((each) => each <= onDay);
  const then = newestWeeksOn(known, value.subarray(0, known.length), { fromDay: -Infinity, onDay: Infinity });
  const later = value.map((each, k) => (day[k]! > onDay ? 1e6 : each));
  expect(newestWeeksOn(day, later, { fromDay: -Infinity, onDay })).toEqual(then);
  expect(newestWeeksOn(day, value, { fromDay: 20_053, onDay })).toEqual({ value: 27.5, day: 20_055, lastDay: 20_056 });
});

it('a part that was not seen yet has none', () => {
  expect(newestWeeksOn(day, value, { fromDay: 0, onDay: 19_999 })).toBeNull();
  expect(newestWeeksOn(day, value, { fromDay: 20_500, onDay: 20_600 })).toBeNull();
});
