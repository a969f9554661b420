import { fleetClock, type FleetClock } from '../model/fleet-clock.ts';
import type { ReadingCorrection } from '../model/reading-correction.ts';
import type { Settings } from '../model/settings.ts';
import type { ReadWorkOrder, WorkOrder } from '../model/work-order.ts';
import { readWorkOrder, whenOf } from './read-work-order.ts';

/** What decides a reading besides the record itself. */
export type ReadingRules = {
  systemCodes: Settings['systemCodes'];
  timeZone: Settings['timeZone'];
  /** Those that stand; the newest of a record wins. */
  corrections: readonly ReadingCorrection[];
};

/** What stands in `words` where a person decided. */
export const CORRECTED_WORDS = 'corrected by hand';

/** How each record is read: as a person corrected it, else as its words say. */
export function readKnownOrders(orders: readonly WorkOrder[], rules: ReadingRules): ReadWorkOrder[] {
  const clock = fleetClock(rules.timeZone);
  const standing = rules.corrections.filter(({ withdrawnUs }) => withdrawnUs === null);
  const correctionOf = new Map(standing.map((correction) => [keyOf(correction), correction]));
  return orders.flatMap((order) => {
    const correction = correctionOf.get(keyOf(order));
    return correction === undefined
      ? readWorkOrder(order, rules.systemCodes, clock)
      : asCorrected(order, correction, clock);
  });
}

function keyOf({ unit, workOrder }: { unit: string; workOrder: string }): string {
  return JSON.stringify([unit, workOrder]);
}

function asCorrected(order: WorkOrder, { readings }: ReadingCorrection, clock: FleetClock): ReadWorkOrder[] {
  return readings.map((reading) => ({
    workOrder: order.workOrder,
    unit: order.unit,
    ...whenOf(order, clock),
    ...reading,
    position: reading.position !== '' ? reading.position : order.position,
    words: CORRECTED_WORDS,
  }));
}
