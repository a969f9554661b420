import type { BacktestPlan } from './model/backtest.ts';
import { dateOf, dayNumber, US_PER_DAY } from './model/time.ts';
import { knownUs, type WorkOrder } from './model/work-order.ts';
import { quantile } from './stats/quantile.ts';

export type PlanOptions = { fromOn?: string; toOn?: string; stepDays?: number; horizonDays?: number };

const STEP_DAYS = 30;
const HORIZON_DAYS = 90;
const MOST_ORIGINS = 12;
/** With less of a past no trend has enough points. Convention of this program. */
const LEAST_PAST_DAYS = 90;
const MOST_ENTRY_DAYS = 30;

/**
 * Which origins to walk. Left open, the last one is the newest whose horizon is over, and there are as many before it, up
 * to twelve, as have some past to look back on.
 */
export function backtestPlan(
  { fromOn, toOn, stepDays = STEP_DAYS, horizonDays = HORIZON_DAYS }: PlanOptions,
  { firstOn, followedToOn }: { firstOn: string; followedToOn: string },
): BacktestPlan {
  for (const [name, days] of [
    ['step', stepDays],
    ['horizon', horizonDays],
  ] as const)
    if (!(Number.isInteger(days) && days > 0))
      throw new RangeError(`backtest requires a whole number of days above 0, got ${days} (--${name})`);
  // Whatever begins later has nothing to be held to.
  if (toOn !== undefined && toOn >= followedToOn)
    throw new RangeError(
      `backtest requires a last day before ${followedToOn}, up to which is known what happened, got ${toOn} (--to)`,
    );
  const last = toOn === undefined ? dayNumber(followedToOn) - horizonDays : dayNumber(toOn);
  const earliest = dayNumber(firstOn) + LEAST_PAST_DAYS;
  const back = Math.min(MOST_ORIGINS - 1, Math.max(0, Math.floor((last - earliest) / stepDays)));
  const first = fromOn === undefined ? last - back * stepDays : dayNumber(fromOn);
  if (fromOn !== undefined && toOn === undefined && first > last && last >= earliest)
    throw new RangeError(
      `backtest requires a first day whose horizon of ${horizonDays} days is over, got ${fromOn} where the last is ${dateOf(last)} (--from, --horizon)`,
    );
  if (first > last || (fromOn === undefined && first < earliest))
    throw new RangeError(
      `backtest requires ${LEAST_PAST_DAYS} days of records and a horizon of ${horizonDays} after them, got records from ${firstOn} to ${followedToOn} (--from, --to, --horizon)`,
    );
  return { fromOn: dateOf(first), toOn: dateOf(last), stepDays, horizonDays };
}

export function originsOf({ fromOn, toOn, stepDays }: BacktestPlan): string[] {
  const [from, to] = [dayNumber(fromOn), dayNumber(toOn)];
  return Array.from({ length: Math.floor((to - from) / stepDays) + 1 }, (_, k) => dateOf(from + k * stepDays));
}

/**
 * How many days after a failure its record is there, in 95 of 100: later failures are not all entered yet, and nothing
 * is concluded from their absence. Whole days, 30 at most.
 */
export function entryDelayDays(orders: readonly WorkOrder[]): number {
  if (orders.length === 0) return 0;
  const days = orders.map((order) => Math.max(0, (knownUs(order) - order.openedUs) / US_PER_DAY));
  return Math.min(MOST_ENTRY_DAYS, Math.ceil(quantile(days, 0.95)));
}
