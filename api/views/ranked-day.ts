import { rank } from '../planning/rank.ts';
import { standingAt } from '../planning/known-decisions.ts';
import type { Outlook } from '../../etl/model/outlook.ts';
import type { Settings } from '../../etl/model/settings.ts';
import type { AsOf } from '../../etl/model/time.ts';
import type { Unit } from '../../etl/model/unit.ts';
import type { Booking, Deferral, RankedRow, Store } from '../../etl/store/store.ts';

/** A day's outlooks, ranked under the settings and decisions that stand, with what they were ranked from. */
export type RankedDay = {
  rows: RankedRow[];
  outlooks: Outlook[];
  units: Unit[];
  settings: Settings;
  bookings: Booking[];
  deferrals: Deferral[];
};

/**
 * `decidedUs`: up to which instant bookings and deferrals count. For the newest day that is now: the planner decides
 * today about data of yesterday. For an earlier day it is that day's end, so that its ranking can be had again.
 */
export async function rankedDay(store: Store, asOf: AsOf, decidedUs: number): Promise<RankedDay> {
  const [outlooks, units, settings, shopVisits, bookings, deferrals, reassessed] = await Promise.all([
    store.outlooks(asOf.label),
    store.units(asOf.us),
    store.settings(),
    store.shopVisits(),
    store.bookings(),
    store.deferrals(),
    store.reassessed(asOf.label),
  ]);
  const decided = { bookings: standingAt(bookings, decidedUs), deferrals: standingAt(deferrals, decidedUs) };
  const ownDays = new Map(reassessed.map(({ unit, asOf: { on } }) => [unit, on]));
  return {
    rows: rank({ asOf, ownDays, outlooks, units, settings, shopVisits, ...decided }),
    outlooks,
    units,
    settings,
    ...decided,
  };
}
