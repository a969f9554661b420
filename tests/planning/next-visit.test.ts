import { describe, expect, it } from 'vitest';
import { nextVisit } from '../../api/planning/next-visit.ts';

const nothing = {
  asOfOn: '2026-03-10',
  bookedOns: [],
  visitOns: [],
  pmOn: null,
  pmIntervalDays: null,
  assumedDays: 90,
};

describe('the next visit', () => {
  it('is assumed 90 days ahead where nothing is known', () => {
    // 10 March + 90 days: 21 left in March, 30 April, 31 May, 8 June.
    expect(nextVisit(nothing)).toEqual({ on: '2026-06-08', from: 'assumed' });
  });

  it('is the maintenance date that lies ahead', () => {
    expect(nextVisit({ ...nothing, pmOn: '2026-04-02', pmIntervalDays: 60 })).toEqual({
      on: '2026-04-02',
      from: 'maintenance',
    });
  });

  it('repeats an overdue maintenance date by its interval', () => {
    // 1 January + 60 = 2 March, still past; + 120 = 1 May.
    expect(nextVisit({ ...nothing, pmOn: '2026-01-01', pmIntervalDays: 60 })).toEqual({
      on: '2026-05-01',
      from: 'maintenance',
    });
  });

  it('repeats an interval that is no whole number of days, never to the as-of day itself', () => {
    // 8 February + 30.5 is the noon of 10 March: its visit is on the 11th.
    expect(nextVisit({ ...nothing, pmOn: '2026-02-08', pmIntervalDays: 30.5 })).toEqual({
      on: '2026-03-11',
      from: 'maintenance',
    });
  });

  it('counts a date on the as-of day itself as past', () => {
    expect(nextVisit({ ...nothing, pmOn: '2026-03-10', pmIntervalDays: 30 }).on).toBe('2026-04-09');
    expect(nextVisit({ ...nothing, bookedOns: ['2026-03-10'] }).from).toBe('assumed');
  });

  it('does not use an overdue date without an interval', () => {
    expect(nextVisit({ ...nothing, pmOn: '2026-01-01' }).from).toBe('assumed');
    expect(nextVisit({ ...nothing, pmOn: '2026-01-01', pmIntervalDays: 0 }).from).toBe('assumed');
  });

  it('is a planned shop visit that comes before the maintenance date', () => {
    const planned = { ...nothing, visitOns: ['2026-03-01', '2026-03-25'], pmOn: '2026-04-02' };
    expect(nextVisit(planned)).toEqual({ on: '2026-03-25', from: 'shop_visit' });
    expect(nextVisit({ ...planned, bookedOns: ['2026-03-25'] }).from).toBe('booked');
  });

  it('is the earliest of booked jobs and maintenance, the booked one at a tie', () => {
    const known = { ...nothing, pmOn: '2026-04-02', pmIntervalDays: 60 };
    expect(nextVisit({ ...known, bookedOns: ['2026-05-01', '2026-03-20'] })).toEqual({
      on: '2026-03-20',
      from: 'booked',
    });
    expect(nextVisit({ ...known, bookedOns: ['2026-05-01'] }).from).toBe('maintenance');
    expect(nextVisit({ ...known, bookedOns: ['2026-04-02'] }).from).toBe('booked');
  });
});
