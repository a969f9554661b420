import { weekday } from './calendar.ts';
import type { Random } from './random.ts';
import type { UnitPlan } from './unit-plan.ts';
import { inSpell } from './unit-plan.ts';

/** A start that a driver means to make, and how long the engine would run after it. */
export type PlannedStart = { secondOfDay: number; runSeconds: number };

/** Is the unit driven on this day? `random` decides about days off. */
export function works(plan: UnitPlan, day: number, random: Random): boolean {
  if (inSpell(plan.parked, day)) return false;
  const off = weekday(day) > plan.class.workdays ? 0.93 : 0.05;
  return !random.chance(off);
}

/** Starts of one engine on a working day, in time order, at least six minutes apart. */
export function plannedStarts(plan: UnitPlan, random: Random): PlannedStart[] {
  const { firstHour, workHours } = plan.class;
  const count = 1 + random.poisson(Math.max(0.2, plan.startsPerDay - 1));
  const slot = (workHours * 3600) / count;
  const first = firstHour * 3600 + 1500 * random.normal();
  const seconds = Array.from(
    { length: count },
    (_, turn) => first + slot * (turn + (turn === 0 ? 0 : random.between(-0.35, 0.35))),
  );
  return seconds
    .filter((second) => second > 600 && second < 85_000)
    .map((second) => ({ secondOfDay: second, runSeconds: Math.max(240, slot * random.between(0.3, 0.6)) }))
    .filter(
      (start, turn, all) =>
        turn === 0 || start.secondOfDay - all[turn - 1]!.secondOfDay > all[turn - 1]!.runSeconds + 100,
    );
}

/** Mean starts per calendar day, for the years before the log. */
export function meanStartsPerDay(plan: UnitPlan): number {
  return (plan.startsPerDay * plan.class.workdays * 0.95) / 7;
}
