import { expect, it } from 'vitest';
import { actDay } from '../../../web/priority/act-day.ts';

it.each([
  ['book_at_next_visit', '2027-02-06', 'on 6 Feb 2027'],
  ['book_now', '2026-11-05', 'by 5 Nov 2026'],
  ['book_now', '2026-10-31', 'since 31 Oct 2026'],
  ['leave', '2027-05-03', 'until 3 May 2027'],
  ['leave', null, ''],
] as const)('%s with the day %s: "%s"', (action, actByOn, words) =>
  expect(actDay({ action, actByOn }, '2026-11-01')).toBe(words),
);
