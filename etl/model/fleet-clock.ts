import { aheadOfUtcUs, dateOf, dayNumber, dayOf, startOfDayUs, US_PER_DAY } from './time.ts';

/**
 * Days as the fleet counts them, by the calendar on its wall: a crank at 18:00 in Los Angeles is of that day, though in
 * UTC the next has begun. Days are numbers since 1970-01-01 of their date.
 */
export type FleetClock = {
  /** The day that holds an instant, µs. */
  dayOf: (us: number) => number;
  /**
   * The instant of a record's cell. One that holds a date alone is kept as 00:00 UTC and means the fleet's own midnight:
   * west of Greenwich it would else be known, and lie, on the day before.
   */
  recordUs: (us: number) => number;
};

const UTC_CLOCK: FleetClock = { dayOf: (us) => Math.floor(us / US_PER_DAY), recordUs: (us) => us };

/** Made once and asked often: ten million cranks lie on some thousand days, each of which is looked up once. */
export const fleetClock: (zone: string) => FleetClock = remembered(clockOf);

function clockOf(zone: string): FleetClock {
  if (zone === 'UTC') return UTC_CLOCK;
  const aheadAllDay = remembered((day: number) => {
    const [ahead, later] = [aheadOfUtcUs(day * US_PER_DAY, zone), aheadOfUtcUs((day + 1) * US_PER_DAY, zone)];
    return ahead === later ? ahead : Number.NaN;
  });
  const midnight = remembered((day: number) => startOfDayUs(dateOf(day), zone));
  return {
    dayOf(us) {
      const ahead = aheadAllDay(Math.floor(us / US_PER_DAY));
      return Number.isNaN(ahead) ? dayNumber(dayOf(us, zone)) : Math.floor((us + ahead) / US_PER_DAY);
    },
    recordUs: (us) => (us % US_PER_DAY === 0 ? midnight(us / US_PER_DAY) : us),
  };
}

function remembered<Asked, Found>(find: (asked: Asked) => Found): (asked: Asked) => Found {
  const found = new Map<Asked, Found>();
  return (asked) => {
    const known = found.get(asked) ?? find(asked);
    found.set(asked, known);
    return known;
  };
}
