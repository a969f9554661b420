import type { Bay, ShopVisit } from '../../model/shop.ts';
import { CellFault, date, integer, name, number, text, type Parse } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { recordReading } from './record-table.ts';

const weekday: Parse<number> = (cell) => {
  const day = integer(1, 7, '')(cell);
  return day instanceof CellFault ? new CellFault('a whole number from 1 (Monday) to 7') : day;
};

const BAY_FIELDS: readonly Field<Bay>[] = [
  { column: 'depot', name: 'depot', required: true, parse: text, missing: '' },
  { column: 'bay', name: 'bay', required: true, parse: text, missing: '' },
  { column: 'weekday', name: 'weekday', required: true, parse: weekday, missing: 1 },
  { column: 'hours', name: 'hours', required: true, parse: number(0, 24, 'hours'), missing: 0 },
];

const VISIT_FIELDS: readonly Field<ShopVisit>[] = [
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'date', name: 'visitOn', required: true, parse: date, missing: '' },
  { column: 'depot', name: 'depot', required: true, parse: text, missing: '' },
  { column: 'reason', name: 'reason', required: false, parse: text, missing: null },
];

/** Open hours of the bays, by depot and day of the week. */
export const baysCsv: TableReader = {
  name: 'bays-csv',
  kind: 'bays',
  version: 2,
  needed: BAY_FIELDS.map(({ column }) => column),
  ...recordReading<Bay>({ kind: 'bays', fields: BAY_FIELDS, deliver: async (rows, sink) => sink.bays(rows) }),
};

/** Days on which units stand in a shop anyway. */
export const shopVisitsCsv: TableReader = {
  name: 'shop-visits-csv',
  kind: 'shop_visits',
  version: 2,
  needed: ['unit', 'date', 'depot'],
  ...recordReading<ShopVisit>({
    kind: 'shop_visits',
    fields: VISIT_FIELDS,
    deliver: async (rows, sink) => sink.shopVisits(rows),
  }),
};
