import type { ReplacementCost } from './replacement-cost.ts';
import type { SurvivalStretch } from './survival-between.ts';

/**
 * Cost of waiting to the next visit, in minor units:
 *
 *   P(fails before it | works now) × (unplanned − planned)  −  planned × (service expected until then / mean life)
 *
 * The first term is what the failure would cost on top of the planned job; the second is the value of the life that
 * is not thrown away by waiting, at what the planned job buys per day of mean life. `planned` is the job at the visit
 * that waiting leads to; what it costs to pull the unit in for it is weighed when the action is chosen.
 * Positive: waiting loses money. Negative: replacing would throw away more than it saves.
 *
 * @example P = 0.3, unplanned 1,581.00, planned 410.00, 60 days expected of a mean life of 1,200:
 *          0.3 × 1,171.00 − 410.00 × 0.05 = 351.30 − 20.50 = 330.80
 */
export function waitingCostMinor(stretch: SurvivalStretch, cost: ReplacementCost, meanLifeDays: number): number {
  const risk = stretch.pFail * (cost.unplannedMinor - cost.atVisitMinor);
  const lifeUsed = cost.atVisitMinor * (stretch.serviceDays / meanLifeDays);
  return Math.round(risk - lifeUsed);
}

/**
 * What going on through a stretch costs over what a fresh part would cost in its place, in minor units:
 *
 *   P(fails within it) × (unplanned − planned)  −  unplanned × (service expected / mean life)
 *
 * The second term is the running cost of parts of average life that are all run to failure: no policy worth having
 * costs more. So where this is positive, replacing pays even against that; where it is not, the next part would be no
 * better. (The cost of waiting above has no such yardstick: it is positive for every part with an average hazard.)
 *
 * @example P = 0.3, 60 days of a mean life of 1,200: 351.30 − 1,581.00 × 0.05 = 272.25
 */
export function goingOnCostMinor(stretch: SurvivalStretch, cost: ReplacementCost, meanLifeDays: number): number {
  const risk = stretch.pFail * (cost.unplannedMinor - cost.atVisitMinor);
  return Math.round(risk - cost.unplannedMinor * (stretch.serviceDays / meanLifeDays));
}
