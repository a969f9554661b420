import type { BatteryStep } from '../model/battery-step.ts';
import type { Replacement } from './replacement.ts';

export type StepsOfEngine = { position: string; steps: readonly BatteryStep[] };

/** A record so near to a step in the voltage explains it. Convention of this program. */
export const EXPLAINED_DAYS = 14;
/** A battery is worn out at 1.5 times the resistance of a new one (from memory): ln 1.5 of the sag ratio. */
const WORN_OUT = Math.log(1.5);

/** Does a step lie where an exchange was recorded? */
export function isNear(day: number, { removedDay, fittedDay }: Replacement): boolean {
  return day >= removedDay - EXPLAINED_DAYS && day <= fittedDay + EXPLAINED_DAYS;
}

/** Was the battery that came out worn out, as far as the voltage shows? */
export function isWornOut(size: number): boolean {
  return size <= -WORN_OUT;
}
