import { ageBattery, arrheniusDays, newBattery, pastUse, resistanceFactor } from './battery-ageing.ts';
import type { Battery } from './battery-ageing.ts';
import { DAYS_PER_YEAR } from './calendar.ts';
import { dayMeanC } from './climate.ts';
import type { Climate } from './climate.ts';
import { bankOhms, engineOf, openCircuitVolts } from './crank-circuit.ts';
import type { Engine } from './crank-circuit.ts';
import type { LogSpan } from './fleet.ts';
import { createRandom } from './random.ts';
import type { Random } from './random.ts';
import { newStarter, starterPastUse, wearUnwatched } from './starter-ageing.ts';
import type { Starter } from './starter-ageing.ts';
import type { EngineScript, UnitPlan } from './unit-plan.ts';
import { meanStartsPerDay } from './usage.ts';

/** One engine of a unit with what cranks it, on one day of its history. */
export type EngineState = {
  position: string;
  script: EngineScript;
  engine: Engine;
  /** Resistances when new, ohm. */
  cableOhms: number;
  motorOhms: number;
  battery: Battery;
  starter: Starter;
  /** Added resistance of cables and clamps over new. */
  corrosion: number;
  drainMilliamps: number;
  alternatorWeak: boolean;
  controlFault: boolean;
  fuelFault: boolean;
  /** Absolute second at which the engine last stopped. */
  stoppedAt: number;
  /** First day on which it can be driven again. */
  readyDay: number;
  /** Complaints that pile up in a driver's mind; they fade with the days. */
  slowStarts: number;
  retries: number;
  jumpDays: number[];
  wrongPartDone: boolean;
  random: { ageing: Random; cranks: Random; workshop: Random };
};

/** Loop resistance of a new set over the battery's, 25 °C: gives a sag ratio of about 0.66. */
const LOOP_OVER_BATTERY = 1.5;
const CABLE_SHARE = 0.18;

export function newEngineState(
  plan: UnitPlan,
  position: string,
  at: { seed: number; climate: Climate; span: LogSpan },
): EngineState {
  const stream = (purpose: string): Random => createRandom(at.seed, plan.index, position, purpose);
  const design = stream('design');
  const bank = { charge: 1, tempC: 25, agm: plan.class.agm, systemVolts: plan.class.systemVolts };
  const batteryOhms = bankOhms({ ...bank, ccaA: plan.class.batteryCcaA, ageing: 1 });
  const loopOhms = batteryOhms * LOOP_OVER_BATTERY * design.lognormal(0.06);
  const cableOhms = loopOhms * CABLE_SHARE;
  const motorOhms = loopOhms - cableOhms;
  const circuit = { openVolts: openCircuitVolts(bank), batteryOhms, cableOhms, motorOhms };
  const engine = engineOf({
    circuit,
    warmRpm: plan.class.warmRpm * design.lognormal(0.04),
    dragShare: plan.class.dragShare,
  });
  const state: EngineState = {
    position,
    script: plan.scripts[position] ?? {},
    engine,
    cableOhms,
    motorOhms,
    battery: newBattery(design, plan.inServiceDay, plan.class.batteryDays),
    starter: newStarter(design, plan.inServiceDay, starterDesign(plan, engine)),
    corrosion: design.between(0, 0.3),
    drainMilliamps: plan.drainMilliamps,
    alternatorWeak: false,
    controlFault: false,
    fuelFault: false,
    stoppedAt: 0,
    readyDay: 0,
    slowStarts: 0,
    retries: 0,
    jumpDays: [],
    wrongPartDone: false,
    random: { ageing: stream('ageing'), cranks: stream('cranks'), workshop: stream('workshop') },
  };
  liveBeforeLog(state, plan, at);
  followScript(state, plan, at);
  return state;
}

/** Charge through the brushes of one ordinary start, A·s: drag current, a second and a half, and the inrush. */
function ampSecondsPerStart(plan: UnitPlan, engine: Engine): number {
  return engine.dragAmps * (plan.class.fireSeconds * 1.48 + 0.22);
}

export function starterDesign(plan: UnitPlan, engine: Engine): { starts: number; ampSeconds: number } {
  return { starts: plan.class.starterStarts, ampSeconds: ampSecondsPerStart(plan, engine) };
}

export function batteryC(plan: UnitPlan, climate: Climate, day: number, worked: boolean): number {
  return dayMeanC(climate, day) + plan.class.compartmentC * (worked ? 1 : 0.15);
}

/** The years before the log: the same ageing without single starts; parts past use are changed when the cold finds them. */
function liveBeforeLog(state: EngineState, plan: UnitPlan, at: { climate: Climate; span: LogSpan }): void {
  const random = state.random.ageing;
  const starts = meanStartsPerDay(plan);
  const worksShare = plan.class.workdays / 7;
  for (let day = Math.max(plan.inServiceDay, at.climate.firstDay); day < at.span.firstDay; day += 1) {
    const warm = batteryC(plan, at.climate, day, true);
    ageBattery(state.battery, {
      batteryC: warm - (1 - worksShare) * plan.class.compartmentC * 0.85,
      drainShare: 0,
      random,
    });
    state.battery.charge = 0.95;
    wearUnwatched(state.starter, starts, ampSecondsPerStart(plan, state.engine));
    if (tooWornFor(state.battery, dayMeanC(at.climate, day)) && random.chance(0.04))
      state.battery = newBattery(random, day, plan.class.batteryDays);
    if (starterPastUse(state.starter) && random.chance(0.04))
      state.starter = newStarter(random, day, starterDesign(plan, state.engine));
  }
}

/** Rule of thumb for the unwatched years only: the colder, the less worn a bank must be to fail. */
function tooWornFor(battery: Battery, meanC: number): boolean {
  return battery.broken !== null || (pastUse(battery) && resistanceFactor(battery) > 1.7 + 0.03 * Math.max(0, meanC));
}

/** Parts that a story lays down: their own life is solved so that they are as worn at the log's end as it says. */
function followScript(state: EngineState, plan: UnitPlan, at: { climate: Climate; span: LogSpan }): void {
  const { battery, starter } = state.script;
  const random = state.random.ageing;
  if (battery !== undefined) {
    const fitted = newBattery(random, at.span.lastDay - battery.fittedBefore, plan.class.batteryDays);
    const days = daysAt20C(plan, at.climate, fitted.fittedDay, at.span.lastDay);
    const before = daysAt20C(plan, at.climate, fitted.fittedDay, at.span.firstDay);
    state.battery = {
      ...fitted,
      lifeDays: days / battery.damageAtEnd,
      knee: battery.knee,
      damage: (before * battery.damageAtEnd) / days,
    };
  }
  if (starter !== undefined) {
    const fitted = newStarter(random, at.span.lastDay - starter.fittedBefore, starterDesign(plan, state.engine));
    const starts = meanStartsPerDay(plan) * starter.fittedBefore;
    const ampSeconds = ampSecondsPerStart(plan, state.engine);
    state.starter = {
      ...fitted,
      brushAmpSeconds: (starts * ampSeconds) / (1 - starter.brushAtEnd),
      erosionPerStart: 0.4 / starts,
    };
    wearUnwatched(
      state.starter,
      (starts * Math.max(0, at.span.firstDay - fitted.fittedDay)) / starter.fittedBefore,
      ampSeconds,
    );
  }
}

function daysAt20C(plan: UnitPlan, climate: Climate, from: number, to: number): number {
  let days = 0;
  const worksShare = plan.class.workdays / 7;
  for (let day = Math.max(from, climate.firstDay); day < to; day += 1) {
    const driven = arrheniusDays(batteryC(plan, climate, day, true));
    days += worksShare * driven + (1 - worksShare) * arrheniusDays(batteryC(plan, climate, day, false));
  }
  return days;
}

const CONTROL_FAULTS_PER_DAY = 0.035 / DAYS_PER_YEAR; // from memory: relays and interlock switches, one in thirty a year
const ALTERNATOR_FAULTS_PER_DAY = 0.04 / DAYS_PER_YEAR; // from memory
const FUEL_FAULTS_PER_DAY = 0.06 / DAYS_PER_YEAR; // from memory: filters, waxed diesel, injectors

/** What happens to an engine's cranking parts on any day, driven or not. */
export function ageEngine(
  state: EngineState,
  plan: UnitPlan,
  at: { climate: Climate; day: number; worked: boolean },
): void {
  const random = state.random.ageing;
  const hoursParked = at.worked ? 24 - plan.class.workHours * 0.45 : 24;
  const lightsLeftOn = random.chance(plan.lightsLeftOnPerYear / DAYS_PER_YEAR);
  const ampHours =
    (state.drainMilliamps / 1000) * hoursParked +
    (lightsLeftOn ? plan.class.capacityAh * random.between(0.35, 0.95) : 0);
  ageBattery(state.battery, {
    batteryC: batteryC(plan, at.climate, at.day, at.worked),
    drainShare: ampHours / plan.class.capacityAh,
    random,
  });
  breakParts(state, random);
  if (at.climate.salted[at.day - at.climate.firstDay] === 1 && at.worked)
    state.corrosion += corrosionOf(state, plan) * random.between(0.5, 1.5);
  state.slowStarts *= 0.93;
  state.retries *= 0.96;
}

function corrosionOf(state: EngineState, plan: UnitPlan): number {
  return state.script.corrosionPerSaltDay ?? plan.corrosionPerSaltDay;
}

/** A story that is told elsewhere is not spoiled by a fault drawn here. */
function breakParts(state: EngineState, random: Random): void {
  const draws = [random.uniform(), random.uniform(), random.uniform(), random.uniform()];
  if (state.script.leftAlone === true) {
    if (state.script.cellShortBefore === undefined) state.battery.broken = null;
    return;
  }
  if (state.starter.broken === null && draws[0]! < STARTER_BREAKS_PER_DAY)
    state.starter.broken = random.pick(STARTER_BREAKS);
  if (draws[1]! < CONTROL_FAULTS_PER_DAY) state.controlFault = true;
  if (draws[2]! < ALTERNATOR_FAULTS_PER_DAY) state.alternatorWeak = true;
  if (draws[3]! < FUEL_FAULTS_PER_DAY) state.fuelFault = true;
}

/** Sudden failures of a starter: about one in eighty a year, from memory. */
const STARTER_BREAKS_PER_DAY = 0.013 / DAYS_PER_YEAR;
const STARTER_BREAKS = ['winding', 'drive_clutch', 'solenoid_coil'] as const;
