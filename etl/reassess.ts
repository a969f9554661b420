/**
 * One unit assessed anew, under what the last run found of its fleet: after a file with its cranks, a record, or a
 * person's correction of how a record is read. Nothing of the other units is looked at. With the same data it comes out as
 * in the fleet's run, to the last digit; what new data would have changed in the fleet's parameters waits for the next.
 */
import { assess } from './assess.ts';
import type { FleetParameters } from './assess-fleet.ts';
import type { AsOf } from './model/time.ts';
import { knownUs } from './model/work-order.ts';
import type { ReassessedUnit, Store } from './store/store.ts';

export async function reassessUnit(
  store: Store,
  unit: string,
  { asOf, fleet }: { asOf: AsOf; fleet: FleetParameters },
): Promise<ReassessedUnit> {
  const { lives, trends, outlooks } = await assess(storeOfUnit(store, unit), asOf, { kept: fleet });
  return { unit, asOf, lives, trends, outlooks };
}

function storeOfUnit(store: Store, unit: string): Store {
  return {
    ...store,
    units: async (asOfUs) => store.units(asOfUs, unit),
    engines: async () => store.engines(unit),
    fittedParts: async (asOfUs) => store.fittedParts(asOfUs, unit),
    workOrders: async (asOfUs) => store.workOrders(asOfUs, unit),
    readingCorrections: async () => store.readingCorrections(unit),
  };
}

/** A unit's newest crank or record up to a limit, µs; null where there is none. */
export async function newestOfUnit(store: Store, unit: string, limitUs: number): Promise<number | null> {
  const known = (await store.workOrders(Infinity, unit)).map(knownUs);
  for (const engine of await store.engines(unit)) {
    const table = await store.finished(engine);
    if (table !== null) known.push(table.columns.timeUs.findLast((us) => us <= limitUs) ?? Infinity);
  }
  const newest = known.reduce((latest, us) => (us <= limitUs ? Math.max(latest, us) : latest), -Infinity);
  return Number.isFinite(newest) ? newest : null;
}
