import { describe, expect, it } from 'vitest';
import { fleetClock } from '../../etl/model/fleet-clock.ts';
import { dateOf, dateUs, dayOf } from '../../etl/model/time.ts';

const at = (instant: string) => Date.parse(instant) * 1000;
const dayIn = (zone: string, instant: string) => dateOf(fleetClock(zone).dayOf(at(instant)));

describe("the fleet's day", () => {
  it('is that of the clock on its wall', () => {
    expect(dayIn('America/Los_Angeles', '2025-03-02T02:00:00Z')).toBe('2025-03-01');
    expect(dayIn('Pacific/Auckland', '2025-03-01T18:00:00Z')).toBe('2025-03-02');
    expect(dayIn('UTC', '2025-03-01T23:59:59Z')).toBe('2025-03-01');
  });

  it.each(['America/Los_Angeles', 'Pacific/Auckland', 'Asia/Kolkata', 'Pacific/Apia', 'America/Sao_Paulo'])(
    'is that of the calendar at every hour of twelve years: %s',
    (zone) => {
      const clock = fleetClock(zone);
      const wrong = [];
      for (let us = dateUs('2010-01-01'); us < dateUs('2022-01-01'); us += 5 * 3600e6 + 1)
        if (dateOf(clock.dayOf(us)) !== dayOf(us, zone)) wrong.push(us);
      expect(wrong).toEqual([]);
    },
    30_000,
  );
});

describe("a record's date alone", () => {
  it("begins at the fleet's midnight", () => {
    const { recordUs } = fleetClock('America/Los_Angeles');
    expect(recordUs(dateUs('2025-03-01'))).toBe(at('2025-03-01T08:00:00Z'));
    expect(recordUs(dateUs('2025-07-01'))).toBe(at('2025-07-01T07:00:00Z'));
    expect(fleetClock('Pacific/Auckland').recordUs(dateUs('2025-07-01'))).toBe(at('2025-06-30T12:00:00Z'));
    expect(fleetClock('UTC').recordUs(dateUs('2025-07-01'))).toBe(dateUs('2025-07-01'));
  });

  it('is not what an instant within a day says', () => {
    expect(fleetClock('America/Los_Angeles').recordUs(at('2025-03-01T15:30:00Z'))).toBe(at('2025-03-01T15:30:00Z'));
  });
});
