import { eq } from 'drizzle-orm';
import { fleetClock, type FleetClock } from '../model/fleet-clock.ts';
import { DEFAULT_SETTINGS } from '../model/settings.ts';
import type { Connection } from './connection.ts';
import { settings } from './schema/typed.ts';

/** The clock of the time zone that is set. */
export function clockOfFleet({ db }: Connection): FleetClock {
  const set = db.select().from(settings).where(eq(settings.name, 'timeZone')).get()?.value;
  return fleetClock(typeof set === 'string' ? set : DEFAULT_SETTINGS.timeZone);
}
