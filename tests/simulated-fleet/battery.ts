import type { Draws } from './draws.ts';
import { morningC } from './weather.ts';
import type { FleetClass, World } from './world.ts';

/**
 * A bank as its wear x: 0 new, about 1 at the end. It grows with heat (Arrhenius, taken as a doubling every 10 K) and
 * with starts, at a rate of the specimen's own that wanders. What it can give, over new, falls slowly and then fast;
 * it fails on the first morning on which that is less than the engine needs at that temperature. Some break unannounced.
 */
export type Battery = {
  fittedDay: number;
  wear: number;
  ratePerDay: number;
  /** Logarithm of what the rate is times today. */
  wander: number;
  power: number;
  limit: number;
  /** The least limit under which it would have failed on a morning that it stood: its own lies below. */
  stood: number;
  broken: boolean;
};

/** The rate wanders once a week, and forgets over two months. */
const WANDER_EVERY_DAYS = 7;
const WANDER_MEMORY = 0.89;
const HEAT_SHARE = 0.65;
/** Spread of one morning's start: how full it is, how the engine stopped. */
const MORNING_SD = 0.02;
/** Draws until its own limit is taken. */
const MOST_TRIES = 40;
/** Of mornings on which it fails, the share that ends with another bank; else it is jumped once more. */
export const BATTERY_REPLACED = 0.75;

export function newBattery(
  world: World,
  fleetClass: FleetClass,
  { day, draws }: { day: number; draws: Draws },
): Battery {
  const { days, rateSd, power, limit, limitSd } = world.battery;
  return {
    fittedDay: day,
    wear: 0,
    ratePerDay: draws.lognormal(rateSd) / days[fleetClass],
    wander: 0,
    power: draws.between(...power),
    limit: limit * draws.lognormal(limitSd),
    stood: Infinity,
    broken: false,
  };
}

/** How fast heat wears it, 1 at 20 °C. */
export function heatFactor(batteryC: number): number {
  return 2 ** ((batteryC - 20) / 10);
}

/** `use`: starts of the day over those of a usual driven day. */
export function wearBattery(battery: Battery, { heat, use }: { heat: number; use: number }): void {
  battery.wear += battery.ratePerDay * Math.exp(battery.wander) * (HEAT_SHARE * heat + (1 - HEAT_SHARE) * use);
}

export function wanderBattery(battery: Battery, world: World, { day, draws }: { day: number; draws: Draws }): void {
  if (day % WANDER_EVERY_DAYS !== 0) return;
  const shock = Math.sqrt(1 - WANDER_MEMORY ** 2) * world.battery.wanderSd;
  battery.wander = WANDER_MEMORY * battery.wander + shock * draws.normal();
}

/** What it can give, over what it gave new. */
export function capability({ wear, power }: Battery, { battery: { fade, drop } }: World): number {
  return Math.max(0.05, 1 - fade * wear - drop * wear ** power);
}

/** Power required over power available by temperature, 1 at 27 °C: training text on battery power in the cold. */
const NEED: readonly (readonly [tempC: number, need: number])[] = [
  [-30, 3.5 / 0.25],
  [-18, 2.1 / 0.4],
  [0, 1.55 / 0.65],
  [27, 1],
  [45, 0.9], // from memory
];

export function coldNeed(tempC: number): number {
  let left = NEED[0]!;
  for (const right of NEED) {
    if (tempC <= right[0]) {
      const share = right === left ? 0 : (tempC - left[0]) / (right[0] - left[0]);
      return left[1] * (right[1] / left[1]) ** share;
    }
    left = right;
  }
  return left[1];
}

/** What the engine needs on a morning, over what its limit is at 27 °C. */
export function morningNeed(meanC: number, { battery }: World): number {
  return coldNeed(morningC(meanC)) ** battery.coldExponent;
}

/** On a morning on which the unit is driven. */
export function batteryFails(battery: Battery, world: World, { need, draws }: { need: number; draws: Draws }): boolean {
  if (battery.broken) return true;
  const most = capability(battery, world) / need;
  const margin = (most - battery.limit) * need;
  // Beyond this no draw decides: most mornings are spared one.
  const fails = margin + (Math.abs(margin) > MORNING_SD * 5 ? 0 : MORNING_SD * draws.normal()) < 0;
  if (!fails) battery.stood = Math.min(battery.stood, most);
  return fails;
}

/** A specimen as worn, of any limit under which it would have stood the mornings that it did. */
export function otherLimit(battery: Battery, world: World, draws: Draws): Battery {
  const { limit, limitSd } = world.battery;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const drawn = limit * draws.lognormal(limitSd);
    if (drawn < battery.stood) return { ...battery, limit: drawn };
  }
  return { ...battery };
}

export function suddenPerDay({ battery }: World): number {
  return battery.suddenPerYear / 365.25;
}
