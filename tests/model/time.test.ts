import * as fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { dateOf, dayNumber, dayOf } from '../../etl/model/time.ts';

describe('the day of an instant', () => {
  it('in UTC is what the calendar says, to the microsecond', () => {
    expect(dayOf(0)).toBe('1970-01-01');
    expect(dayOf(86_400e6 - 1)).toBe('1970-01-01');
    expect(dayOf(86_400e6)).toBe('1970-01-02');
    expect(dayOf(-1)).toBe('1969-12-31');
    expect(dayOf(Date.UTC(2024, 1, 29, 23, 59, 59, 999) * 1000)).toBe('2024-02-29');
  });

  it('agrees with luxon everywhere', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e15, max: Number.MAX_SAFE_INTEGER }), (us) => {
        expect(dayOf(us)).toBe(DateTime.fromMillis(Math.floor(us / 1000), { zone: 'UTC' }).toISODate());
      }),
      { seed: 1 },
    );
  });

  it('in another zone is that of its clocks', () => {
    const lateEvening = Date.UTC(2025, 5, 30, 23, 30) * 1000;
    expect([dayOf(lateEvening), dayOf(lateEvening, 'Europe/Berlin')]).toEqual(['2025-06-30', '2025-07-01']);
    expect(dayOf(lateEvening, 'America/Chicago')).toBe('2025-06-30');
  });

  it('has a number that leads back to it', () => {
    fc.assert(
      fc.property(fc.integer({ min: -10_000, max: 90_000 }), (day) => {
        expect(dayNumber(dateOf(day))).toBe(day);
      }),
      { seed: 1 },
    );
  });
});
