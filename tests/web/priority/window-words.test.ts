import { expect, it } from 'vitest';
import { windowDates, windowWords } from '../../../web/priority/window-words.ts';

const visit = { nextVisitOn: '2026-12-25', nextVisitFrom: 'maintenance' as const };
const known: Parameters<typeof windowDates>[0] = {
  basis: ['lives'],
  windowEarlyOn: '2026-11-01',
  windowMidOn: '2027-10-30',
  windowLateOn: '2028-01-31',
};

it('within a year of the as-of day a date is a day, later a month of a year', () => {
  expect(windowDates(known, '2026-10-31')).toBe('1 Nov · 30 Oct · Jan 2028');
  expect(windowDates({ ...known, windowMidOn: '2027-10-31' }, '2026-10-31')).toBe('1 Nov · Oct 2027 · Jan 2028');
});

it('what lies past the horizon is said once; where nothing or all lies there the drawing says it', () => {
  expect(windowDates({ ...known, windowLateOn: null }, '2026-10-31')).toBe('1 Nov · 30 Oct · over 5 years');
  expect(windowDates({ ...known, windowMidOn: null, windowLateOn: null }, '2026-10-31')).toBe('1 Nov · over 5 years');
  const never = { ...known, windowEarlyOn: null, windowMidOn: null, windowLateOn: null };
  expect(windowDates(never, '2026-10-31')).toBe('');
});

it('says the whole window and the visit in words', () => {
  expect(windowWords({ ...known, ...visit, windowLateOn: null })).toBe(
    'Failed with probability 10 % by 1 Nov 2026, 50 % by 30 Oct 2027, 90 % later than five years; ' +
      'next visit 25 Dec 2026 (maintenance)',
  );
  expect(windowWords({ ...known, ...visit, basis: ['none'] })).toBe('No outlook; next visit 25 Dec 2026 (maintenance)');
});
