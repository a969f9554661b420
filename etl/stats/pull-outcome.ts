/**
 * What came of pulling a part the first time its forecast called for it.
 *
 * For: hits, misses, needless pulls and lead time as a workshop counts them. A part is pulled once, at its first call.
 * `hit`: it would have failed within the horizon of the call; `needless`: it would not have; `miss`: it failed within the
 * horizon of a forecast and was never called before; `open`: called, but not followed to the horizon; `none`: never
 * called, and no failure to miss. Days since 1970 or of any one calendar. Throws StatisticsRefusal for arrays of unequal
 * length or a horizon that is not above 0.
 *
 * @example // forecasts on day 0, 30 and 60, called on day 30, failed on day 100, horizon 90
 * pullOutcome({ forecastDay, called, failedDay: 100, followedToDay: 100 }, 90) // { kind: 'hit', day: 30, leadDays: 70 }
 */
import { StatisticsRefusal } from './refusal.ts';

export type PartForecasts = {
  /** Ascending. */
  forecastDay: Float64Array;
  called: Uint8Array;
  failedDay: number | null;
  followedToDay: number;
};

export type PullOutcome =
  | { kind: 'hit'; day: number; leadDays: number }
  | { kind: 'needless' | 'miss' | 'open'; day: number }
  | { kind: 'none' };

export function pullOutcome(
  { forecastDay, called, failedDay, followedToDay }: PartForecasts,
  horizon: number,
): PullOutcome {
  if (called.length !== forecastDay.length)
    throw new StatisticsRefusal('pullOutcome', `${forecastDay.length} values, one a forecast`, called.length, 'called');
  if (!(horizon > 0)) throw new StatisticsRefusal('pullOutcome', 'a horizon above 0', horizon, 'horizon');
  const first = called.indexOf(1);
  if (first < 0) {
    const seen = failedDay !== null && forecastDay.some((day) => failedDay > day && failedDay <= day + horizon);
    return seen ? { kind: 'miss', day: failedDay } : { kind: 'none' };
  }
  const day = forecastDay[first]!;
  if (failedDay !== null && failedDay <= day + horizon) return { kind: 'hit', day, leadDays: failedDay - day };
  return { kind: followedToDay >= day + horizon ? 'needless' : 'open', day };
}
