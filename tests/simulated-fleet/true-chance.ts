/**
 * The chance, by the simulator's own laws, that a part in this very state fails within so many days: future weather
 * known only as climate, future use only as usual use. The best that anybody could forecast who saw everything, the
 * specimen's own limit included. Beside it `worn90`: what could be said of the next 90 days by one who saw its wear and
 * how fast it goes on, but knew of limits only how they are spread, as nobody sees a limit before it is reached.
 */
import * as bank from './battery.ts';
import type { Draws } from './draws.ts';
import * as motor from './starter.ts';
import type { Futures } from './weather.ts';
import type { World } from './world.ts';

export type Chances = { p30: number; p60: number; p90: number; worn90: number };
export type Use = { startsPerDay: number; drivenShare: number; heatK: number };

/** Futures of a depot with what heat and cold make of each day, worked out once for all units that stand there. */
export type Ahead = Futures & { heat: Float32Array; need: Float32Array; fromDay: number };

export function aheadOf(futures: Futures, fromDay: number, world: World): Ahead {
  const heat = futures.meanC.map((meanC) => bank.heatFactor(meanC));
  return { ...futures, fromDay, heat, need: futures.meanC.map((meanC) => bank.morningNeed(meanC, world)) };
}

type Foreseeing = { world: World; use: Use; ahead: Ahead; draws: Draws };

export function batteryChances(now: bank.Battery, on: Foreseeing): Chances {
  const { world, draws, ahead } = on;
  return {
    ...chances(daysToFailure(ahead, (path) => batteryLasts({ ...now }, on, path))),
    worn90: within(
      90,
      daysToFailure(ahead, (path) => batteryLasts(bank.otherLimit(now, world, draws), on, path)),
    ),
  };
}

export function starterChances(now: motor.Starter, on: Foreseeing): Chances {
  const { world, draws, ahead } = on;
  return {
    ...chances(daysToFailure(ahead, () => starterLasts({ ...now }, on))),
    worn90: within(
      90,
      daysToFailure(ahead, () => starterLasts(motor.otherLimit(now, world, draws), on)),
    ),
  };
}

/** Days until it has failed and was replaced on one path; Infinity beyond the path. */
function batteryLasts(battery: bank.Battery, { world, use, ahead, draws }: Foreseeing, path: number): number {
  const warmer = 2 ** (use.heatK / 10);
  const breaksAfter = draws.exponential() / bank.suddenPerDay(world);
  for (let day = 0; day < ahead.days; day++) {
    const at = path * ahead.days + day;
    bank.wearBattery(battery, { heat: ahead.heat[at]! * warmer, use: use.drivenShare });
    bank.wanderBattery(battery, world, { day: ahead.fromDay + 1 + day, draws });
    if (day >= breaksAfter) battery.broken = true;
    if (!draws.chance(use.drivenShare)) continue;
    const fails = bank.batteryFails(battery, world, { need: ahead.need[at]!, draws });
    if (fails && draws.chance(bank.BATTERY_REPLACED)) return day + 1;
  }
  return Infinity;
}

function starterLasts(starter: motor.Starter, { world, use, ahead, draws }: Foreseeing): number {
  const breaksAfter = draws.exponential() / motor.suddenPerDay(world);
  for (let day = 0; day < ahead.days; day++) {
    if (day >= breaksAfter) starter.broken = true;
    if (!draws.chance(use.drivenShare)) continue;
    motor.wearStarter(starter, use.startsPerDay, draws);
    if (motor.starterFails(starter, draws) && draws.chance(motor.STARTER_REPLACED)) return day + 1;
  }
  return Infinity;
}

function daysToFailure({ paths }: Futures, lasts: (path: number) => number): number[] {
  return Array.from({ length: paths }, (_, path) => lasts(path));
}

/** A tenth of a path is added on either side, so that no chance is 0 or 1. */
function within(horizon: number, days: readonly number[]): number {
  return (days.filter((day) => day <= horizon).length + 0.1) / (days.length + 0.2);
}

function chances(days: readonly number[]) {
  return { p30: within(30, days), p60: within(60, days), p90: within(90, days) };
}
