/**
 * The work of an assessment that looks at one engine, or one record, at a time: it may be done in any thread and in any
 * order, and comes out the same.
 */
import { readEngine, dailyOf, type DailyReader, type EngineReading, type Until } from './assess-engines.ts';
import { assessEngine, type AssessedEngine, type EngineCase } from './assess-engine.ts';
import { seriesOf, summariesOf, type FleetParameters, type Seasons, type SinceDays } from './assess-fleet.ts';
import { readKnownOrders, type ReadingRules } from './lives/read-known-orders.ts';
import type { AsOf } from './model/time.ts';
import type { Engine } from './model/unit.ts';
import type { ReadWorkOrder, WorkOrder } from './model/work-order.ts';
import type { EngineSeries } from './outlook/condition-index.ts';
import { packedSummaries } from './packed-summaries.ts';
import type { Store } from './store/store.ts';
import type { DailyMedians } from './trends/daily-medians.ts';
import type { Look } from './trends/recent-reading.ts';

/** What each kind of work is given, shared by all and one by one, and what it makes of each. */
export type Works = {
  /** How some records are read. */
  records: { shared: ReadingRules; item: readonly WorkOrder[]; result: ReadWorkOrder[] };
  /** An engine's daily medians and the steps in its voltage; null where it had no crank by then. */
  read: { shared: Until; item: Engine; result: EngineReading | null };
  /** Season and charge taken out; the daily medians may be gone afterwards. */
  summarise: {
    shared: Seasons;
    item: { class: string; daily: DailyMedians; since: SinceDays; looks: readonly Look[] };
    result: EngineSeries['series'];
  };
  outlook: { shared: { fleet: FleetParameters; asOf: AsOf }; item: EngineCase; result: AssessedEngine };
};
export type WorkName = keyof Works;
export type Doing = {
  [Name in WorkName]: (item: Works[Name]['item'], shared: Works[Name]['shared']) => Promise<Works[Name]['result']>;
};

/** Results in the order of the items. The items are used up: what is done is let go, for the memory's sake. */
export type Workers = {
  run<Name extends WorkName>(
    name: Name,
    items: (Works[Name]['item'] | undefined)[],
    given: { shared: Works[Name]['shared']; onDone?: ((done: number) => void) | undefined },
  ): Promise<Works[Name]['result'][]>;
};

export function doingOf(store: Store, daily: DailyReader = dailyOf(store)): Doing {
  return {
    records: async (orders, rules) => readKnownOrders(orders, rules),
    read: async (engine, until) => readEngine(daily, engine, until),
    summarise: async ({ daily: own, class: name, since, looks }, seasons) =>
      packedSummaries(summariesOf(seriesOf(own, { ...seasons, class: name }), since, looks)),
    outlook: async (engine, { fleet, asOf }) => assessEngine(engine, fleet, asOf),
  };
}

/** All work done here, one item after the other. */
export function workHere(doing: Doing): Workers {
  return {
    async run(name, items, { shared, onDone }) {
      const results = [];
      for (let at = 0; at < items.length; at++) {
        const item = items[at]!;
        items[at] = undefined;
        results.push(await doing[name](item, shared));
        onDone?.(results.length);
      }
      return results;
    },
  };
}
