import type { FittedPart } from '../model/part.ts';
import { dayNumber } from '../model/time.ts';
import type { Component } from '../model/words.ts';
import type { ReadWorkOrder } from '../model/work-order.ts';
import { withoutMisdiagnoses } from './misdiagnosis.ts';
import { NOT_CURED } from './not-cured.ts';
import type { Replacement } from './replacement.ts';
import type { StepsOfEngine } from './steps-of-engine.ts';
import { unrecordedExchanges } from './unrecorded-exchanges.ts';
import { TAKEN_WORDS } from './vocabulary.ts';

/** Two records of one exchange: within so many days they are one. Convention of this program. */
const SAME_EXCHANGE_DAYS = 3;

/**
 * The exchanges of one unit, per component and position, in time order: from work orders read as `replaced`, from the
 * parts list, and from steps in the voltage that neither explains. Duplicates are merged; an exchange that did not
 * cure its complaint counts as planned.
 */
export function replacementsOf(
  orders: readonly ReadWorkOrder[],
  parts: readonly FittedPart[],
  steps: readonly StepsOfEngine[] = [],
): Replacement[] {
  const fromOrders = orders.filter((order) => order.event === 'replaced' && order.component !== 'none').map(exchangeOf);
  const fromParts = parts.map((part) => ({
    component: part.component,
    position: part.position,
    removedDay: dayNumber(part.fittedOn),
    fittedDay: dayNumber(part.fittedOn),
    unplanned: false,
    workOrder: '',
    fittedFrom: 'record' as const,
  }));
  const recorded = mergeDuplicates([...fromOrders, ...fromParts]);
  const shown = steps.flatMap((engine) => unrecordedExchanges(engine, recorded, orders));
  return [...withoutMisdiagnoses(recorded, { orders, steps }), ...shown];
}

function exchangeOf(order: ReadWorkOrder): Replacement {
  const opened = order.openedDay;
  const done = Math.max(opened, order.doneDay);
  return {
    component: order.component as Component,
    position: order.position,
    removedDay: order.unplanned ? opened : done,
    fittedDay: done,
    unplanned: order.unplanned && !TAKEN_WORDS.test(order.words) && !NOT_CURED.test(order.words),
    workOrder: order.workOrder,
    fittedFrom: 'record',
  };
}

function mergeDuplicates(all: readonly Replacement[]): Replacement[] {
  const sorted = all.toSorted(
    (a, b) =>
      a.removedDay - b.removedDay ||
      a.fittedDay - b.fittedDay ||
      Number(a.workOrder > b.workOrder) - Number(a.workOrder < b.workOrder),
  );
  const merged: Replacement[] = [];
  for (const next of sorted) {
    const same = merged.findLast(
      (each) =>
        each.component === next.component &&
        each.position === next.position &&
        next.removedDay - Math.max(each.removedDay, each.fittedDay) <= SAME_EXCHANGE_DAYS,
    );
    if (same === undefined) merged.push({ ...next });
    else absorb(same, next);
  }
  return merged;
}

function absorb(kept: Replacement, again: Replacement): void {
  kept.unplanned ||= again.unplanned;
  kept.fittedDay = Math.max(kept.fittedDay, again.fittedDay);
  if (kept.workOrder === '') kept.workOrder = again.workOrder;
}
