import type { UnitTrend } from '../contract/unit.ts';
import { seriesOf, type FleetParameters } from '../../etl/assess-fleet.ts';
import type { AsOf } from '../../etl/model/time.ts';
import { fleetClock } from '../../etl/model/fleet-clock.ts';
import type { Store } from '../../etl/store/store.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import type { KnownUnit } from './known-unit.ts';

type Series = ReturnType<typeof seriesOf>;

/**
 * The unit's trends, each with the daily medians that it was drawn through: corrected by what the assessment fitted on
 * the whole fleet, and as they were measured. `label`: the assessment's; `asOf`: the unit's own day, if it was computed
 * anew later.
 */
export async function unitTrends(
  store: Store,
  known: KnownUnit,
  { label, asOf, fleet }: { label: string; asOf: AsOf; fleet: FleetParameters | null },
): Promise<UnitTrend[]> {
  const [trends, series] = await Promise.all([
    store.trends(label, known.unit),
    seriesByPosition(store, known, { asOf, fleet }),
  ]);
  return trends.map((trend) => {
    const days = series.get(trend.position)?.[trend.indicator];
    return {
      position: trend.position,
      component: trend.component,
      indicator: trend.indicator,
      level: trend.level,
      slopePerYear: trend.slopePerYear,
      slopeLow: trend.slopeLow,
      slopeHigh: trend.slopeHigh,
      senSlopePerYear: trend.senSlopePerYear,
      pValue: trend.pValue,
      n: trend.n,
      sinceOn: trend.sinceOn,
      residual: trend.residual,
      standing: trend.standing,
      days: [...(days?.day ?? [])],
      values: [...(days?.corrected ?? [])],
      rawValues: [...(days?.value ?? [])],
    };
  });
}

async function seriesByPosition(
  store: Store,
  known: KnownUnit,
  { asOf, fleet }: { asOf: AsOf; fleet: FleetParameters | null },
): Promise<Map<string, Series>> {
  const series = new Map<string, Series>();
  if (fleet === null || known.registered === null) return series;
  const { corrections, temperatures } = fleet;
  const clock = fleetClock((await store.settings()).timeZone);
  for (const engine of known.engines) {
    const table = await store.finished(engine);
    if (table === null) continue;
    const context = { corrections, temperatures, class: known.registered.class };
    series.set(engine.position, seriesOf(dailyMedians(table, asOf.us, clock), context));
  }
  return series;
}
