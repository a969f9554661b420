import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import type { Action } from '../../etl/model/words.ts';
import type { ReplacementCost } from './replacement-cost.ts';
import { HAZARD_STEPS, hazardPerDay } from './survival-between.ts';

/**
 * The day from which every further day of waiting costs more than it is worth: the first one at which
 * hazard × (unplanned − planned), the marginal cost of waiting, exceeds unplanned / mean life, the running cost of the
 * fresh part that would stand in its place (see `goingOnCostMinor`). Null: never within the curve.
 *
 * Where going on through a stretch costs more than a fresh part would, this day lies before the stretch's end.
 *
 * @example planned 410.00, unplanned 1,581.00, mean life 1,200 days: the limit is
 *          1,581.00 / 1,200 / 1,171.00 = 0.001125 failures a day, about 34 % a year
 */
export function actByOn(
  survival: Float64Array,
  cost: ReplacementCost,
  { asOfOn, meanLifeDays }: { asOfOn: string; meanLifeDays: number },
): string | null {
  const gain = cost.unplannedMinor - cost.atVisitMinor;
  const perDay = cost.unplannedMinor / meanLifeDays;
  for (let step = 0; step < HAZARD_STEPS; step++)
    if (hazardPerDay(survival, step) * gain > perDay) return dateOf(dayNumber(asOfOn) + SURVIVAL_DAYS[step]!);
  return null;
}

/**
 * The day that goes with an action. What is to be done at the next visit has the visit's day: one before it would
 * contradict the action, as it would where the part is to be left even then.
 */
export function dayOfAction(action: Action, dueOn: string | null, visitOn: string): string | null {
  if (action === 'book_at_next_visit') return visitOn;
  return action === 'leave' && dueOn !== null && dueOn < visitOn ? null : dueOn;
}
