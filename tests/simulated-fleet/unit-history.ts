import { batteryFails, heatFactor, morningNeed, suddenPerDay, wanderBattery, wearBattery } from './battery.ts';
import { weekdayOf } from './calendar.ts';
import { crankReading, lostContact, tooWeak, type CrankReading } from './crank-reading.ts';
import { Draws } from './draws.ts';
import * as motor from './starter.ts';
import type { FleetUnit } from './unit.ts';
import { dayC, morningC, type Weather } from './weather.ts';
import { afterDeadBattery, afterDeadStarter, afterFlatBattery, plannedVisit, write, type Shop } from './workshop.ts';
import { isVisitDay } from './unit.ts';
import type { World } from './world.ts';

/** A unit's days, one after the other: parts wear, it is driven or not, it starts or not, people act. */
export type History = { unit: FleetUnit; world: World; weather: Weather; shop: Shop; streams: Streams };
export type Streams = { wear: Draws; use: Draws; cranks: Draws };

const WEEKDAY_DRIVEN = 0.92;
const WEEKEND_DRIVEN = 0.25;
export const DRIVEN_SHARE = (5 * WEEKDAY_DRIVEN + 2 * WEEKEND_DRIVEN) / 7;
const FLAT_PER_DAY = 0.12 / 365;
const UNRELATED_PER_DAY = 5 / 365;

export function historyStreams(seed: number, unit: string): Streams {
  const stream = (purpose: string) => new Draws(seed, unit, purpose);
  return { wear: stream('wear'), use: stream('use'), cranks: stream('cranks') };
}

/** Lives one day; the cranks of the day are only made where somebody is watching. */
export function liveDay(history: History, day: number): CrankReading[] {
  const { unit, world, weather, shop, streams } = history;
  const { wear, use } = streams;
  const driven = use.chance(weekdayOf(day) < 5 ? WEEKDAY_DRIVEN : WEEKEND_DRIVEN);
  const starts = driven ? Math.max(1, use.poisson(unit.startsPerDay)) : 0;
  const meanC = dayC(weather, day);
  wearBattery(unit.battery, { heat: heatFactor(meanC + unit.design.heatK), use: starts / unit.startsPerDay });
  wanderBattery(unit.battery, world, { day, draws: wear });
  if (wear.chance(suddenPerDay(world))) unit.battery.broken = true;
  if (wear.chance(motor.suddenPerDay(world))) unit.starter.broken = true;
  charge(unit, starts, use);
  const flat = use.chance(FLAT_PER_DAY);
  if (flat) unit.charge = use.between(0.1, 0.4);
  const at = { unit, day, shop };
  const readings = driven ? driveDay(history, { day, starts, meanC, flat }) : [];
  if (isVisitDay(unit, day)) plannedVisit(at);
  if (shop.draws.chance(UNRELATED_PER_DAY)) write(at, 'unrelated', 'failed');
  return readings;
}

function charge(unit: FleetUnit, starts: number, draws: Draws): void {
  const full = 0.97 - 0.1 * Math.min(1.5, unit.battery.wear) - (starts === 0 ? 0.05 : 0);
  unit.charge = Math.min(1, unit.charge + 0.35 * (full - unit.charge) + 0.012 * draws.normal());
}

type Day = { day: number; starts: number; meanC: number; flat: boolean };

function driveDay(history: History, { day, starts, meanC, flat }: Day): CrankReading[] {
  const { unit, world, shop, streams } = history;
  const { wear, cranks } = streams;
  motor.wearStarter(unit.starter, starts, wear);
  const at = { unit, day, shop };
  const batteryDead = batteryFails(unit.battery, world, { need: morningNeed(meanC, world), draws: wear });
  const starterDead = !batteryDead && motor.starterFails(unit.starter, wear);
  const moments = shop.watched ? momentsOf(starts, cranks) : [];
  const readings: CrankReading[] = [];
  moments.forEach((second, turn) => {
    const tempC = turn === 0 ? morningC(meanC) : meanC + cranks.between(0, 5);
    const reading = crankReading(unit, world, { second, tempC, engineWarm: turn > 0, draws: cranks });
    if (turn === 0 && (batteryDead || flat)) readings.push(tooWeak(reading, cranks));
    else if (turn === 0 && starterDead) readings.push(lostContact(reading, cranks));
    else {
      if (cranks.chance(motor.retryChance(unit.starter))) readings.push(lostContact(reading, cranks));
      readings.push(reading);
    }
    if (turn > 0) return;
    if (batteryDead) afterDeadBattery(at);
    else if (starterDead) afterDeadStarter(at);
    else if (flat) afterFlatBattery(at);
  });
  if (moments.length > 0) return readings;
  if (batteryDead) afterDeadBattery(at);
  else if (starterDead) afterDeadStarter(at);
  return readings;
}

/** Seconds of the day, the first at six in the morning or so. */
function momentsOf(starts: number, draws: Draws): number[] {
  const first = 21_600 + 1800 * Math.abs(draws.normal());
  const gap = 43_000 / starts;
  return Array.from(
    { length: starts },
    (_, turn) => first + turn * gap + (turn === 0 ? 0 : draws.between(0, 0.5 * gap)),
  );
}
