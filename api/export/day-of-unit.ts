import type { Store } from '../../etl/store/store.ts';

/** As of when each unit of an assessment was assessed: its own day where it was computed anew alone, else the fleet's. */
export async function dayOfUnit(store: Store, asOfLabel: string): Promise<(unit: string) => string> {
  const own = new Map((await store.reassessed(asOfLabel)).map(({ unit, asOf }) => [unit, asOf.label]));
  return (unit) => own.get(unit) ?? asOfLabel;
}
