import type { WorkOrder } from '../../model/work-order.ts';
import { flag, instant, moneyMinor, name, number, text } from './cell.ts';
import type { TableReader } from '../reader.ts';
import type { Field } from './record-rows.ts';
import { WorkOrderDoubts } from './work-order-doubts.ts';
import { recordReading } from './record-table.ts';

const FIELDS: readonly Field<WorkOrder>[] = [
  { column: 'work_order', name: 'workOrder', required: true, parse: name, missing: '' },
  { column: 'unit', name: 'unit', required: true, parse: name, missing: '' },
  { column: 'position', name: 'position', required: false, parse: name, missing: '' },
  { column: 'opened', name: 'openedUs', required: true, parse: instant, missing: 0 },
  { column: 'closed', name: 'closedUs', required: false, parse: instant, missing: null },
  { column: 'entered', name: 'enteredUs', required: false, parse: instant, missing: null },
  { column: 'odometer_km', name: 'odometerKm', required: false, parse: number(0, 1e7, 'km'), missing: null },
  { column: 'engine_hours', name: 'engineHours', required: false, parse: number(0, 1e6, 'hours'), missing: null },
  { column: 'complaint', name: 'complaint', required: false, parse: text, missing: null },
  { column: 'cause', name: 'cause', required: false, parse: text, missing: null },
  { column: 'correction', name: 'correction', required: false, parse: text, missing: null },
  { column: 'system_code', name: 'systemCode', required: false, parse: text, missing: null },
  { column: 'road_call', name: 'roadCall', required: false, parse: flag, missing: null },
  { column: 'parts_cost', name: 'partsCostMinor', required: false, parse: moneyMinor, missing: null },
  { column: 'labor_hours', name: 'laborHours', required: false, parse: number(0, 10_000, 'hours'), missing: null },
  { column: 'labor_cost', name: 'laborCostMinor', required: false, parse: moneyMinor, missing: null },
  {
    column: 'downtime_hours',
    name: 'downtimeHours',
    required: false,
    parse: number(0, 100_000, 'hours'),
    missing: null,
  },
];

const NEEDED = ['work_order', 'unit', 'opened'];

/** Repair records. A file without a `closed` column at all cannot say what is open: its orders count as closed. */
export const workOrdersCsv: TableReader = {
  name: 'work-orders-csv',
  kind: 'work_orders',
  version: 2,
  needed: NEEDED,
  ...recordReading<WorkOrder>({
    kind: 'work_orders',
    fields: FIELDS,
    complete: (order, columns) =>
      columns.includes('closed') ? order : { ...order, closedUs: order.enteredUs ?? order.openedUs },
    doubts: (nowUs) => new WorkOrderDoubts(nowUs),
    deliver: async (rows, sink) => sink.workOrders(rows),
  }),
};
