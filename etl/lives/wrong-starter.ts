import type { ReadWorkOrder } from '../model/work-order.ts';
import type { Replacement } from './replacement.ts';
import { EXPLAINED_DAYS, isNear } from './steps-of-engine.ts';

/** A bank exchanged so shortly before lies within what the voltage is compared with. As long as that month. */
const MONTH_DAYS = 30;

export type WornBankOut = (position: string, day: number) => boolean;

/**
 * Starters that were fitted for a worn battery: the voltage shows that a worn bank came out within days of the order,
 * and no record of a battery, of cables or of charging says why. The starter had not failed, the battery had.
 */
export function withoutWrongStarters(
  all: readonly Replacement[],
  orders: readonly ReadWorkOrder[],
  wornBankOut: WornBankOut,
): Replacement[] {
  return all.flatMap((starter) => {
    if (starter.component !== 'starter' || !starter.unplanned || starter.workOrder === '') return [starter];
    const banks = all.filter((each) => each.component === 'battery' && each.position === starter.position);
    const explained =
      banks.some((bank) => !isAssumed(bank) && isBeside(bank.fittedDay, starter)) ||
      orders.some((order) => movesVoltage(order, starter));
    if (explained || !wornBankOut(starter.position, starter.removedDay)) return [starter];
    const shown = banks.some((bank) => isAssumed(bank) && isNear(bank.removedDay, starter));
    return [{ ...starter, unplanned: false }, ...(shown ? [] : [bankInstead(starter)])];
  });
}

function isAssumed({ fittedFrom, workOrder }: Replacement): boolean {
  return fittedFrom === 'assumed' && workOrder === '';
}

function isBeside(day: number, { removedDay, fittedDay }: Replacement): boolean {
  return day >= removedDay - MONTH_DAYS && day <= fittedDay + EXPLAINED_DAYS;
}

function movesVoltage({ component, event, doneDay, position }: ReadWorkOrder, starter: Replacement): boolean {
  const moves = component === 'cables' || component === 'charging' || component === 'battery';
  const done = event === 'replaced' || event === 'repaired';
  const here = position === starter.position || position === '' || starter.position === '';
  return moves && done && here && isBeside(doneDay, starter);
}

function bankInstead({ position, removedDay, fittedDay }: Replacement): Replacement {
  return {
    component: 'battery',
    position,
    removedDay,
    fittedDay,
    unplanned: true,
    workOrder: '',
    fittedFrom: 'assumed',
  };
}
