import { dateUs, dayNumber } from '../../etl/model/time.ts';
import type { ReadWorkOrder, WorkOrder } from '../../etl/model/work-order.ts';

/** A work order with everything unknown but what a test names. */
export function workOrder(known: { [Field in keyof WorkOrder]?: WorkOrder[Field] } = {}): WorkOrder {
  return {
    workOrder: 'W1',
    unit: 'U1',
    position: '',
    openedUs: dateUs('2025-03-01'),
    closedUs: dateUs('2025-03-01'),
    enteredUs: null,
    odometerKm: null,
    engineHours: null,
    complaint: null,
    cause: null,
    correction: null,
    systemCode: null,
    roadCall: null,
    partsCostMinor: null,
    laborHours: null,
    laborCostMinor: null,
    downtimeHours: null,
    ...known,
  };
}

/** A replacement as it was read: component, day, planned or not. */
export function replaced(
  component: 'battery' | 'starter',
  on: string,
  more: Partial<ReadWorkOrder> = {},
): ReadWorkOrder {
  return {
    workOrder: `W-${component}-${on}`,
    unit: 'U1',
    openedUs: dateUs(on),
    doneUs: dateUs(on),
    openedDay: dayNumber(on),
    doneDay: dayNumber(on),
    component,
    event: 'replaced',
    unplanned: true,
    position: '',
    words: '',
    ...more,
  };
}
