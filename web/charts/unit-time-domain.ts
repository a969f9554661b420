/** The time axis that a unit's charts share: what was recorded, at most three years of it, and one year ahead. */
import type { UnitView } from '../../api/contract/unit.ts';
import { dateMs, dayMs, type TimeDomain } from './chart-frame.ts';

const YEAR_MS = 365.25 * 86_400_000;
const BACK_YEARS = 3;

export function unitTimeDomain(unit: Pick<UnitView, 'asOfOn' | 'trends' | 'workOrders' | 'lives'>): TimeDomain {
  const asOf = dateMs(unit.asOfOn);
  const seen = [
    ...unit.trends.flatMap((trend) => (trend.days[0] === undefined ? [] : [dayMs(trend.days[0])])),
    ...unit.workOrders.map((order) => dateMs(order.openedOn)),
    ...unit.lives.map((life) => dateMs(life.watchedFromOn)),
  ];
  const first = Math.min(asOf - YEAR_MS / 4, ...seen);
  return { from: Math.max(first, asOf - BACK_YEARS * YEAR_MS), to: asOf + YEAR_MS };
}
