import { expect, it } from 'vitest';
import { readingOn } from '../../etl/trends/recent-reading.ts';

/** Weekly medians 1, 2, 3, … of a year, dated at the middle of each week. */
const weeks = {
  day: Float64Array.from({ length: 52 }, (_, k) => 20_003 + 7 * k),
  value: Float64Array.from({ length: 52 }, (_, k) => k + 1),
};

it('the newest fortnight, month and the nine weeks before, by hand', () => {
  const onDay = weeks.day[19]!;
  expect(readingOn(weeks, { fromDay: 0, onDay })).toEqual({ fortnight: 19.5, month: 18.5, before: 12 });
});

it('nothing later and nothing of the part before is read', () => {
  const onDay = weeks.day[19]! + 3;
  const later = { ...weeks, value: weeks.value.map((value, k) => (k > 19 || k < 14 ? 1e6 : value)) };
  const reading = readingOn(later, { fromDay: weeks.day[14]!, onDay });
  expect(reading).toMatchObject({ fortnight: 19.5, month: 18.5 });
  expect(reading!.before).toBeNaN();
});

it('a silent logger says nothing of now', () => {
  expect(readingOn(weeks, { fromDay: 0, onDay: weeks.day[51]! + 37 })).not.toBeNull();
  expect(readingOn(weeks, { fromDay: 0, onDay: weeks.day[51]! + 38 })).toBeNull();
  expect(readingOn(weeks, { fromDay: weeks.day[51]! + 1, onDay: weeks.day[51]! + 2 })).toBeNull();
});
