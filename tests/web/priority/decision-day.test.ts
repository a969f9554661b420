import { expect, it } from 'vitest';
import { bookingDay, lookAgainDay } from '../../../web/priority/decision-day.ts';

it('a booking proposes the last good day, else the next visit, and today where that has passed', () => {
  const row = { actByOn: '2026-11-05', nextVisitOn: '2027-02-06' };
  expect(bookingDay(row, '2026-10-31')).toBe('2026-11-05');
  expect(bookingDay({ ...row, actByOn: null }, '2026-10-31')).toBe('2027-02-06');
  expect(bookingDay(row, '2026-11-27')).toBe('2026-11-27');
});

it('a deferral proposes a month from today', () => {
  expect(lookAgainDay('2026-11-27')).toBe('2026-12-27');
});
