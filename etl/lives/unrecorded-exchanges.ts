import type { ReadWorkOrder } from '../model/work-order.ts';
import type { Replacement } from './replacement.ts';
import { EXPLAINED_DAYS, isNear, isWornOut, type StepsOfEngine } from './steps-of-engine.ts';

/** Trouble so shortly before says why it was exchanged. Convention of this program. */
const TROUBLE_DAYS = 30;

/** Days between a visit and the step that belongs to it: the unit stands, then cranks again. */
const SAME_VISIT_DAYS = 3;

/**
 * Batteries that were exchanged as the voltage shows and no record says. A step near an exchange that is recorded, or
 * near work on the cables or the charging system, which move the voltage too, is explained. Where the old one was worn
 * out, or had to be helped in the month before, it counts as failed: nobody replaces a bank on the road that still
 * starts. At a visit to the shop for something else it was exchanged in time.
 */
export function unrecordedExchanges(
  { position, steps }: StepsOfEngine,
  recorded: readonly Replacement[],
  orders: readonly ReadWorkOrder[],
): Replacement[] {
  const own = (place: string) => place === position || place === '' || position === '';
  const exchanges = recorded.filter((each) => each.component === 'battery' && own(each.position));
  const works = orders.filter((order) => own(order.position));
  return steps
    .filter(({ day }) => !exchanges.some((each) => isNear(day, each)) && !works.some((order) => explains(order, day)))
    .map(({ day, size }) => ({
      component: 'battery',
      position,
      removedDay: day,
      fittedDay: day,
      unplanned: works.some((order) => isTrouble(order, day)) || (isWornOut(size) && !works.some(isVisitOn(day))),
      workOrder: '',
      fittedFrom: 'assumed',
    }));
}

function explains({ component, event, openedDay, doneDay }: ReadWorkOrder, day: number): boolean {
  const moves = component === 'cables' || component === 'charging';
  const done = event === 'replaced' || event === 'repaired';
  return moves && done && day >= openedDay - EXPLAINED_DAYS && day <= doneDay + EXPLAINED_DAYS;
}

function isTrouble({ component, event, openedDay }: ReadWorkOrder, day: number): boolean {
  const before = day - openedDay;
  const helped = event === 'jump_started' || event === 'no_start' || (component === 'battery' && event === 'repaired');
  return helped && before >= 0 && before <= TROUBLE_DAYS;
}

function isVisitOn(day: number): (order: ReadWorkOrder) => boolean {
  return ({ event, unplanned, openedDay, doneDay }) =>
    event === 'unrelated' && !unplanned && day >= openedDay - SAME_VISIT_DAYS && day <= doneDay + SAME_VISIT_DAYS;
}
