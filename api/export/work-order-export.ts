import { readKnownOrders } from '../../etl/lives/read-known-orders.ts';
import { columns, compareKeys, type ExportTable } from './export-table.ts';

/** Each record as it was read by the as-of instant: one row per component and position that it touches. */
export const WORK_ORDER_EXPORT: ExportTable = {
  name: 'work-orders',
  about: 'each repair record as it was read, with the words that decided',
  columns: [
    ...columns('text', 'work_order', 'unit'),
    ...columns('instant', 'opened'),
    ...columns('text', 'component', 'event'),
    ...columns('flag', 'unplanned'),
    ...columns('text', 'position', 'words'),
  ],
  assessed: false,
  async *rows({ store, asOf, settings }) {
    const { systemCodes, timeZone } = settings;
    const corrections = await store.readingCorrections();
    const read = readKnownOrders(await store.workOrders(asOf.us), { systemCodes, timeZone, corrections });
    const key = (row: (typeof read)[number]) => [row.workOrder, row.unit, row.component, row.position];
    for (const row of read.toSorted((a, b) => compareKeys(key(a), key(b))))
      yield [
        row.workOrder,
        row.unit,
        row.openedUs,
        row.component,
        row.event,
        Number(row.unplanned),
        row.position,
        row.words,
      ];
  },
};
