import type { Draws } from './draws.ts';
import type { FleetClass, World } from './world.ts';

/**
 * A starter as its wear: 0 new, about 1 at the end of brushes and contacts, which each specimen reaches at a limit of
 * its own. It wears by the start, in jumps. Loop resistance rises late, retries set in later still; then a day comes on
 * which nothing helps. Some break unannounced.
 */
export type Starter = {
  fittedDay: number;
  wear: number;
  ratePerStart: number;
  power: number;
  limit: number;
  /** Wear from which contact is lost now and then. */
  onset: number;
  broken: boolean;
};

/** Chance a driven day that one past its limit stays dead. */
const DEAD_DAY = 0.12;
/** Where within its limit contact begins to be lost. */
const ONSET = [0.68, 0.92] as const;
/** Draws until its own limit is taken. */
const MOST_TRIES = 40;
/** Of days on which it stays dead, the share that ends with another starter. */
export const STARTER_REPLACED = 0.85;

export function newStarter(
  world: World,
  fleetClass: FleetClass,
  { day, draws }: { day: number; draws: Draws },
): Starter {
  const { starts, rateSd, power, limitSd } = world.starter;
  const limit = draws.lognormal(limitSd);
  return {
    fittedDay: day,
    wear: 0,
    ratePerStart: draws.lognormal(rateSd) / starts[fleetClass],
    power: draws.between(...power),
    limit,
    onset: limit * draws.between(...ONSET),
    broken: false,
  };
}

/** A day's starts wear it in one jump of random size. */
export function wearStarter(starter: Starter, starts: number, draws: Draws): void {
  starter.wear += starter.ratePerStart * starts * draws.exponential();
}

/** Resistance of brushes and contacts added to the loop, over the loop when new. */
export function addedResistance({ wear, power }: Starter): number {
  return 0.06 * wear + 0.5 * Math.min(1.5, wear ** power);
}

/** Chance that one try draws little and turns nothing, so that the driver tries again. */
export function retryChance({ wear, onset, limit }: Starter): number {
  return 0.002 + 0.16 * Math.min(1.2, Math.max(0, (wear - onset) / (limit - onset))) ** 2;
}

export function starterFails(starter: Starter, draws: Draws): boolean {
  return starter.broken || (starter.wear > starter.limit && draws.chance(DEAD_DAY));
}

/** A specimen as worn, of any limit that goes with when it began to lose contact, and that it has not passed long ago. */
export function otherLimit(starter: Starter, world: World, draws: Draws): Starter {
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const limit = draws.lognormal(world.starter.limitSd);
    const share = starter.onset / limit;
    if (share >= ONSET[0] && share <= ONSET[1] && (limit > starter.wear || starter.wear > starter.limit))
      return { ...starter, limit };
  }
  return { ...starter };
}

export function suddenPerDay({ starter }: World): number {
  return starter.suddenPerYear / 365.25;
}
