import type { UnitWorkOrder } from '../contract/unit.ts';
import { CORRECTED_WORDS, readKnownOrders } from '../../etl/lives/read-known-orders.ts';
import { dayOf, type AsOf } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';

/** The unit's repair records as known then, newest first, each with how it was read and the words that decided. */
export async function unitWorkOrders(store: Store, unit: string, asOf: AsOf): Promise<UnitWorkOrder[]> {
  const [orders, { systemCodes, timeZone }, corrections] = await Promise.all([
    store.workOrders(asOf.us, unit),
    store.settings(),
    store.readingCorrections(unit),
  ]);
  return orders
    .toSorted((a, b) => b.openedUs - a.openedUs)
    .flatMap((order) =>
      readKnownOrders([order], { systemCodes, timeZone, corrections }).map((read) => ({
        workOrder: order.workOrder,
        openedOn: dayOf(order.openedUs, timeZone),
        closedOn: order.closedUs === null ? null : dayOf(order.closedUs, timeZone),
        position: read.position,
        component: read.component,
        event: read.event,
        unplanned: read.unplanned,
        words: read.words,
        corrected: read.words === CORRECTED_WORDS,
        complaint: order.complaint ?? '',
        cause: order.cause ?? '',
        correction: order.correction ?? '',
      })),
    );
}
