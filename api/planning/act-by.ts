import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import type { ReplacementCost } from './replacement-cost.ts';
import { HAZARD_STEPS, hazardPerDay } from './survival-between.ts';

/**
 * The day from which every further day of waiting costs more than it is worth: the first one at which
 * hazard × (unplanned − planned) exceeds the planned cost per day of mean life. Null: never within the curve.
 *
 * This is the marginal form of the cost of waiting: where waiting through a stretch costs anything, this day lies
 * before the stretch's end.
 *
 * @example planned 410.00, unplanned 1,581.00, mean life 1,200 days: the limit is
 *          410.00 / 1,200 / 1,171.00 = 0.000292 failures a day, about 10 % a year
 */
export function actByOn(
  survival: Float64Array,
  cost: ReplacementCost,
  { asOfOn, meanLifeDays }: { asOfOn: string; meanLifeDays: number },
): string | null {
  const gain = cost.unplannedMinor - cost.atVisitMinor;
  const perDay = cost.atVisitMinor / meanLifeDays;
  for (let step = 0; step < HAZARD_STEPS; step++)
    if (hazardPerDay(survival, step) * gain > perDay) return dateOf(dayNumber(asOfOn) + SURVIVAL_DAYS[step]!);
  return null;
}
