import { expect, it } from 'vitest';
import { actDay } from '../../../web/priority/act-day.ts';

it('a job for the next visit has the visit’s day, any other its own last day', () => {
  const row = { actByOn: '2026-11-05', nextVisitOn: '2027-02-06' };
  expect(actDay({ ...row, action: 'book_at_next_visit' }, '2026-11-01')).toBe('on 6 Feb 2027');
  expect(actDay({ ...row, action: 'book_now' }, '2026-11-01')).toBe('by 5 Nov 2026');
  expect(actDay({ ...row, action: 'leave', actByOn: '2027-05-03' }, '2026-11-01')).toBe('until 3 May 2027');
  expect(actDay({ ...row, action: 'book_now' }, '2026-11-06')).toBe('since 5 Nov 2026');
  // Left even at the visit of February: a day before it would say the contrary.
  expect(actDay({ ...row, action: 'leave' }, '2026-11-01')).toBe('');
  expect(actDay({ ...row, action: 'leave', actByOn: null }, '2026-11-01')).toBe('');
});
