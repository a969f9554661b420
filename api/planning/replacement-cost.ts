import type { Settings } from '../../etl/model/settings.ts';
import type { ForecastComponent } from '../../etl/model/words.ts';

/**
 * What one replacement costs in three situations, in integer minor units of the settings' currency: at a visit that
 * happens anyway, pulled into the shop for it, and after a failure on the road. Parts and labour are the same in all
 * three; they differ by the hours that the unit stands still and by the road call.
 *
 * @example with the default settings a battery costs 320.00 + 0.75 h × 120.00 = 410.00 at a visit,
 *          + 3 h × 85.00 = 665.00 pulled in, and 410.00 + 491.00 + 8 h × 85.00 = 1,581.00 unplanned
 */
export type ReplacementCost = { atVisitMinor: number; pulledInMinor: number; unplannedMinor: number };

export function replacementCost(settings: Settings, component: ForecastComponent): ReplacementCost {
  const { partsMinor, laborHours } = settings.costs[component];
  const work = partsMinor + laborHours * settings.laborRateMinorPerHour;
  const standing = (hours: number) => hours * settings.downtimeRateMinorPerHour;
  return {
    atVisitMinor: Math.round(work + standing(settings.downtimeHoursAtVisit)),
    pulledInMinor: Math.round(work + standing(settings.downtimeHoursPulledIn)),
    unplannedMinor: Math.round(work + settings.roadCallMinor + standing(settings.downtimeHoursUnplanned)),
  };
}
