/**
 * The chance, by the simulator's own laws, that a part in this very state fails within so many days: future weather
 * known only as climate, future use only as usual use. The best that anybody could forecast who saw everything.
 */
import * as bank from './battery.ts';
import type { Draws } from './draws.ts';
import * as motor from './starter.ts';
import type { Futures } from './weather.ts';
import type { World } from './world.ts';

export type Chances = { p30: number; p60: number; p90: number };
export type Use = { startsPerDay: number; drivenShare: number; heatK: number };

/** Futures of a depot with what heat and cold make of each day, worked out once for all units that stand there. */
export type Ahead = Futures & { heat: Float32Array; need: Float32Array; fromDay: number };

export function aheadOf(futures: Futures, fromDay: number, world: World): Ahead {
  const heat = futures.meanC.map((meanC) => bank.heatFactor(meanC));
  return { ...futures, fromDay, heat, need: futures.meanC.map((meanC) => bank.morningNeed(meanC, world)) };
}

type Foreseeing = { world: World; use: Use; ahead: Ahead; draws: Draws };

export function batteryChances(now: bank.Battery, { world, use, ahead, draws }: Foreseeing): Chances {
  const warmer = 2 ** (use.heatK / 10);
  return shareByDay(ahead, (path) => {
    const battery = { ...now };
    const breaksAfter = draws.exponential() / bank.suddenPerDay(world);
    for (let day = 0; day < ahead.days; day++) {
      const at = path * ahead.days + day;
      bank.wearBattery(battery, { heat: ahead.heat[at]! * warmer, use: use.drivenShare });
      bank.wanderBattery(battery, world, { day: ahead.fromDay + 1 + day, draws });
      if (day >= breaksAfter) battery.broken = true;
      if (!draws.chance(use.drivenShare)) continue;
      if (bank.batteryFails(battery, world, { need: ahead.need[at]!, draws }) && draws.chance(bank.BATTERY_REPLACED))
        return day + 1;
    }
    return Infinity;
  });
}

export function starterChances(now: motor.Starter, { world, use, ahead, draws }: Foreseeing): Chances {
  return shareByDay(ahead, () => {
    const starter = { ...now };
    const breaksAfter = draws.exponential() / motor.suddenPerDay(world);
    for (let day = 0; day < ahead.days; day++) {
      if (day >= breaksAfter) starter.broken = true;
      if (!draws.chance(use.drivenShare)) continue;
      motor.wearStarter(starter, use.startsPerDay, draws);
      if (motor.starterFails(starter, draws) && draws.chance(motor.STARTER_REPLACED)) return day + 1;
    }
    return Infinity;
  });
}

/** A tenth of a path is added on either side, so that no chance is 0 or 1. */
function shareByDay({ paths }: Futures, failsAfter: (path: number) => number): Chances {
  const days = Array.from({ length: paths }, (_, path) => failsAfter(path));
  const share = (within: number) => (days.filter((day) => day <= within).length + 0.1) / (paths + 0.2);
  return { p30: share(30), p60: share(60), p90: share(90) };
}
