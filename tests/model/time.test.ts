import * as fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { asOf, dateOf, dayNumber, dayOf, isDate } from '../../etl/model/time.ts';

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

describe('an as-of', () => {
  it('that is a date is the end of that day on the fleet’s clocks', () => {
    expect(asOf('2026-03-01')).toEqual({
      us: Date.UTC(2026, 2, 1, 23, 59, 59, 999) * 1000 + 999,
      label: '2026-03-01',
      on: '2026-03-01',
    });
    expect(asOf('2026-03-01', 'Europe/Berlin').us).toBe(Date.UTC(2026, 2, 1, 22, 59, 59, 999) * 1000 + 999);
  });

  it('that is an instant has one label however it was written, to the microsecond', () => {
    const us = Date.UTC(2026, 9, 1, 12) * 1000;
    for (const text of [
      '2026-10-01T12:00Z',
      '2026-10-01T12:00:00z',
      '2026-10-01T14:00:00+02:00',
      '2026-10-01T14:00+02',
    ])
      expect(asOf(text)).toEqual({ us, label: '2026-10-01T12:00:00Z', on: '2026-10-01' });
    expect(asOf('2026-10-01T12:00:00.1234567Z')).toMatchObject({
      us: us + 123_456,
      label: '2026-10-01T12:00:00.123456Z',
    });
    expect(asOf('2026-10-01T23:30:00Z', 'Europe/Berlin').on).toBe('2026-10-02');
  });

  it.each(['', '2026-02-30', '20261001', '12:00Z', '2026-10Z', '2026-10-01T12:00', '2026-10-01T25:00Z', 'tomorrow'])(
    '%s is refused: nothing is filled in from the clock or the calendar',
    (text) => {
      expect(() => asOf(text)).toThrow(
        `as-of requires a date YYYY-MM-DD or an instant with zone, got ${text || 'nothing'} (--as-of)`,
      );
    },
  );

  it('is a date only if the calendar has it', () => {
    expect(['2024-02-29', '2026-02-29', '2026-2-1', ''].map(isDate)).toEqual([true, false, false, false]);
  });
});
