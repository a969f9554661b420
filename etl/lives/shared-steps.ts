import type { BatteryStep } from '../model/battery-step.ts';
import { engineKey } from './build-lives.ts';

type Stepped = { unit: string; position: string; batterySteps: readonly BatteryStep[] };

/** Steps so near in time are one event. Convention of this program. */
const TOGETHER_DAYS = 3;
/** No workshop exchanges so large a share of a fleet's batteries in a week without a record; nor so few by chance. */
const SHARED_SHARE = 0.1;
const SHARED_ENGINES = 4;

/** The days of all steps of a fleet, and how many engines it has: what tells a step that many engines share. */
export type FleetSteps = { days: number[]; engines: number };

export function fleetSteps(engines: readonly Stepped[]): FleetSteps {
  const days = engines.flatMap(({ batterySteps }) => batterySteps.map(({ day }) => day));
  return { days, engines: engines.length };
}

/**
 * The steps of each engine that has any, by `engineKey`, without those that many engines show together: a cold spell, a
 * new version of the loggers, or of how they are read, is nobody's new battery.
 */
export function ownSteps(
  engines: readonly Stepped[],
  fleet: FleetSteps = fleetSteps(engines),
): Map<string, BatteryStep[]> {
  const together = (day: number) => fleet.days.filter((each) => Math.abs(each - day) <= TOGETHER_DAYS).length;
  const most = Math.max(SHARED_ENGINES, SHARED_SHARE * fleet.engines);
  const own = engines.map(({ unit, position, batterySteps }) => {
    const alone = batterySteps.filter(({ day }) => together(day) <= most);
    return [engineKey(unit, position), alone] as const;
  });
  return new Map(own.filter(([, steps]) => steps.length > 0));
}
