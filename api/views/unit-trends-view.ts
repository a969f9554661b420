import type { UnitTrend } from '../contract/unit.ts';
import type { AsOf } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';
import type { KnownUnit } from './known-unit.ts';

export async function unitTrends(store: Store, { unit }: KnownUnit, asOf: AsOf): Promise<UnitTrend[]> {
  const trends = await store.trends(asOf.label, unit);
  return trends.map((trend) => ({ ...trend, days: [], values: [], rawValues: [] }));
}
