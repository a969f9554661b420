import type { Component, RepairEvent } from './words.ts';

/** A repair record as it was written. Text fields are kept to the letter. Instants of date-only cells are 00:00 UTC. */
export type WorkOrder = {
  workOrder: string;
  unit: string;
  position: string;
  openedUs: number;
  closedUs: number | null;
  enteredUs: number | null;
  odometerKm: number | null;
  engineHours: number | null;
  complaint: string | null;
  cause: string | null;
  correction: string | null;
  systemCode: string | null;
  roadCall: boolean | null;
  partsCostMinor: number | null;
  laborHours: number | null;
  laborCostMinor: number | null;
  downtimeHours: number | null;
};

/** A record is known at `entered`, else `closed`, else `opened`. */
export function knownUs(order: Pick<WorkOrder, 'openedUs' | 'closedUs' | 'enteredUs'>): number {
  return order.enteredUs ?? order.closedUs ?? order.openedUs;
}

/**
 * The record as it could be read at an instant: `null` before it was known; while the order was still open only the
 * complaint (no cause, correction, costs, hours), whatever was written later.
 */
export function workOrderAsKnown(order: WorkOrder, asOfUs: number): WorkOrder | null {
  if (knownUs(order) > asOfUs) return null;
  if (order.closedUs !== null && order.closedUs <= asOfUs) return order;
  return {
    ...order,
    closedUs: null,
    cause: null,
    correction: null,
    systemCode: null,
    partsCostMinor: null,
    laborHours: null,
    laborCostMinor: null,
    downtimeHours: null,
  };
}

/** How a record was read. `words` are the words of the record that decided, joined by `; `. */
export type ReadWorkOrder = {
  workOrder: string;
  unit: string;
  openedUs: number;
  /** When the work was done: `closed`, else `opened`. */
  doneUs: number;
  /** Day numbers of both by the fleet's clock. */
  openedDay: number;
  doneDay: number;
  component: Component | 'none';
  event: RepairEvent;
  unplanned: boolean;
  position: string;
  words: string;
};
