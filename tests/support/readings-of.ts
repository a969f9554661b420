import { WORK_ORDER_EXPORT } from '../../api/export/work-order-export.ts';
import { asOf } from '../../etl/model/time.ts';
import type { Store } from '../../etl/store/store.ts';

/** Work order, component, event and deciding words, as the export writes them. */
export async function readingsOf(store: Store): Promise<unknown[][]> {
  const [settings, day] = [await store.settings(), asOf('2026-03-10')];
  const rows: unknown[][] = [];
  for await (const cells of WORK_ORDER_EXPORT.rows({ store, asOf: day, settings, decidedUs: day.us }))
    rows.push([cells[0], cells[3], cells[4], cells[7]]);
  return rows;
}
