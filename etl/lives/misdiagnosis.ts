import type { ReadWorkOrder } from '../model/work-order.ts';
import type { Replacement } from './replacement.ts';
import { isNear, isWornOut, type StepsOfEngine } from './steps-of-engine.ts';

/** A complaint that comes back within a fortnight was not cured by the first part. Convention of this program. */
const NOT_CURED_DAYS = 14;
/** Work on the charging system so shortly before or at an exchange of the battery was for the same complaint. */
const SAME_COMPLAINT_DAYS = 3;

/**
 * Exchanges that did not cure what they were made for, counted as planned: the part that came out had not failed, its
 * life is censored there. Three signs in the records:
 *
 * - another component was replaced or repaired, unplanned, within a fortnight after: that was the cure;
 * - the charging system was put right with a battery or within a fortnight after: the battery had been run flat;
 * - a new battery had to be jumped, charged, or did not start within a fortnight: something else empties it.
 *
 * The last says nothing about a starter: a flat battery after a new starter is a trouble of its own. A battery that the
 * voltage shows to have been worn out had failed, whatever came after.
 */
export function withoutMisdiagnoses(
  all: readonly Replacement[],
  { orders, steps }: { orders: readonly ReadWorkOrder[]; steps: readonly StepsOfEngine[] },
): Replacement[] {
  const unplanned = orders.filter((order) => order.unplanned);
  return all.map((each) => {
    if (!each.unplanned || wasWornOut(each, steps)) return each;
    const wrong = unplanned.some(
      (order) =>
        isSamePlace(order, each) &&
        (curesInstead(order, each) || fedFlat(order, each) || comesBack(order, each, orders)),
    );
    return wrong ? { ...each, unplanned: false } : each;
  });
}

function wasWornOut(each: Replacement, engines: readonly StepsOfEngine[]): boolean {
  if (each.component !== 'battery') return false;
  const own = engines.filter(({ position }) => position === each.position || each.position === '');
  return own.some(({ steps }) => steps.some(({ day, size }) => isNear(day, each) && isWornOut(size)));
}

function daysAfter(order: ReadWorkOrder, day: number): number {
  return order.openedDay - day;
}

function isSamePlace(order: ReadWorkOrder, { position }: Replacement): boolean {
  return order.position === position || order.position === '' || position === '';
}

function isDone({ event }: ReadWorkOrder): boolean {
  return event === 'replaced' || event === 'repaired';
}

function curesInstead(order: ReadWorkOrder, { component, fittedDay }: Replacement): boolean {
  const other = order.component !== component && order.component !== 'none' && order.component !== 'charging';
  // Charging a battery up cures nothing else.
  const cure = isDone(order) && !(order.component === 'battery' && order.event === 'repaired');
  const later = daysAfter(order, fittedDay);
  return other && cure && later > 0 && later <= NOT_CURED_DAYS;
}

function fedFlat(order: ReadWorkOrder, { component, removedDay, fittedDay }: Replacement): boolean {
  if (component !== 'battery' || order.component !== 'charging' || !isDone(order)) return false;
  return daysAfter(order, removedDay) >= -SAME_COMPLAINT_DAYS && daysAfter(order, fittedDay) <= NOT_CURED_DAYS;
}

function comesBack(order: ReadWorkOrder, each: Replacement, orders: readonly ReadWorkOrder[]): boolean {
  const charged = order.component === 'battery' && order.event === 'repaired';
  const again = order.event === 'jump_started' || order.event === 'no_start' || charged;
  const later = daysAfter(order, each.fittedDay);
  if (each.component !== 'battery' || !again || later <= 0 || later > NOT_CURED_DAYS) return false;
  return !orders.some((earlier) => isKeyedTwice(earlier, order, each.fittedDay));
}

/** The record of an earlier trouble, keyed once more some days late, is no new one. */
function isKeyedTwice(earlier: ReadWorkOrder, order: ReadWorkOrder, fittedDay: number): boolean {
  const same = earlier.event === order.event && earlier.words === order.words && earlier.position === order.position;
  const before = daysAfter(earlier, fittedDay) <= 0 && earlier.workOrder !== order.workOrder;
  return same && before && daysAfter(order, earlier.openedDay) <= SAME_COMPLAINT_DAYS;
}
