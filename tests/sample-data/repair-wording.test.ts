import { expect, test } from 'vitest';
import { createRandom } from '../../sample-data/random.ts';
import { asWritten } from '../../sample-data/repair-wording.ts';
import { instantText, quarterOf, weekday, dayFromDate } from '../../sample-data/calendar.ts';

const random = createRandom(1, 'hand');

test('a hand that always shortens writes the trade abbreviations', () => {
  const hand = { shorten: 1, misspell: 0, letters: 'upper' } as const;
  expect(asWritten('starter unserviceable', hand, random)).toMatch(/^STRTR U\/S$|^STR U\/S$/);
  expect(asWritten('removed and replaced alternator', hand, random)).toMatch(/^R(&|\/)R ALT$/);
});

test('a hand that never shortens nor misspells writes what was meant', () => {
  expect(asWritten('battery ok replaced starter', { shorten: 0, misspell: 0, letters: 'sentence' }, random)).toBe(
    'Battery ok replaced starter',
  );
});

test('days, quarters and instants', () => {
  expect(weekday(dayFromDate('2026-10-31'))).toBe(6); // a Saturday
  expect(quarterOf(dayFromDate('2026-10-31'))).toBe('2026-q4');
  expect(instantText(dayFromDate('2026-10-31'), 86_400 + 61.26, 1)).toBe('2026-11-01T00:01:01.3Z');
});
