import { capacity, discharge, pastUse, recharge, resistanceFactor } from './battery-ageing.ts';
import { temperatureC } from './climate.ts';
import type { Climate } from './climate.ts';
import type { Crank, CrankKind } from './crank.ts';
import { bankOhms, openCircuitVolts, stalledCrank, turningCrank } from './crank-circuit.ts';
import type { Circuit } from './crank-circuit.ts';
import type { EngineState } from './engine-state.ts';
import { addedResistance, clickChance, deadSpotChance, wearStarter } from './starter-ageing.ts';
import type { UnitPlan } from './unit-plan.ts';
import type { PlannedStart } from './usage.ts';

/** What truly kept an engine from starting. `flat`: a battery that is sound but empty. */
export type Culprit = 'battery' | 'flat' | 'starter' | 'cables' | 'charging' | 'control' | 'fuel';
export type Attempt = { cranks: Crank[]; started: boolean; culprit: Culprit | null };

/** Below this share of the warm speed no engine fires (no start below 60 to 100 rpm cold, from memory). */
const LEAST_SPEED_SHARE = 0.4;
/** Below this share of the system's volts the solenoid lets go again. */
const HOLD_IN_SHARE = 0.36;
/** Seconds after which a driver lets go of the key. */
const PATIENCE_SECONDS = 9;
const CORRODED = 2.2;

export type Moment = { plan: UnitPlan; climate: Climate; day: number; start: PlannedStart };

/** A driver's attempt: up to four cranks, a few seconds apart. The battery pays for each, the starter wears with each. */
export function attemptStart(state: EngineState, moment: Moment): Attempt {
  if (state.controlFault || state.starter.broken === 'solenoid_coil')
    return { cranks: [], started: false, culprit: state.controlFault ? 'control' : 'starter' };
  const random = state.random.cranks;
  const cranks: Crank[] = [];
  const tries = 3 + (random.chance(0.3) ? 1 : 0);
  let secondOfDay = moment.start.secondOfDay;
  for (let turn = 0; turn < tries; turn += 1) {
    const crank = crankOnce(state, moment, secondOfDay);
    cranks.push(crank);
    if (crank.started) return started(state, moment, { cranks, crank });
    secondOfDay += crank.seconds + random.between(3, 20);
  }
  return { cranks, started: false, culprit: culpritOf(state, cranks) };
}

function started(state: EngineState, moment: Moment, done: { cranks: Crank[]; crank: Crank }): Attempt {
  if (done.crank.rpm < 0.56 * moment.plan.class.warmRpm) state.slowStarts += 1;
  state.retries += done.cranks.length - 1;
  drive(state, moment);
  return { cranks: done.cranks, started: true, culprit: null };
}

/** The engine runs and charges. A weak alternator lets the charge sink instead. */
export function drive(state: EngineState, moment: Moment): void {
  recharge(state.battery, moment.start.runSeconds / 3600, state.alternatorWeak ? 0.3 : 1);
  state.stoppedAt = moment.day * 86_400 + moment.start.secondOfDay + moment.start.runSeconds;
}

function crankOnce(state: EngineState, moment: Moment, secondOfDay: number): Crank {
  const random = state.random.cranks;
  const scene = sceneOf(state, moment, secondOfDay);
  const { circuit } = scene;
  const stall = stalledCrank(circuit);
  const turning = turningCrank(circuit, state.engine, scene.oilC);
  const kind = kindOf(state, { stallVolts: stall.volts, rpm: turning.rpm, systemVolts: moment.plan.class.systemVolts });
  const fireSeconds = secondsToFire(state, moment.plan, { rpm: turning.rpm, oilC: scene.oilC });
  const fires = kind === 'turning' && !state.fuelFault && fireSeconds <= PATIENCE_SECONDS;
  const seconds = fires ? fireSeconds : SECONDS_OF[kind][0] + random.uniform() * SECONDS_OF[kind][1];
  const crank: Crank = {
    position: state.position,
    day: moment.day,
    secondOfDay,
    kind,
    started: fires,
    restVolts: circuit.openVolts,
    circuit,
    amps: ampsOf(kind, { turning: turning.amps, stall: stall.amps, systemVolts: moment.plan.class.systemVolts }),
    rpm: kind === 'turning' || kind === 'slow' ? turning.rpm : 0,
    seconds,
    chargeVolts: chargeVolts(state, moment.plan, scene.ambientC),
    tempC: scene.ambientC,
    cylinders: moment.plan.class.cylinders,
    weakCylinder: moment.plan.weakCylinder,
    dropoutAt:
      kind === 'turning' && random.chance(1.5 * deadSpotChance(state.starter))
        ? seconds * random.between(0.4, 0.7)
        : null,
    systemVolts: moment.plan.class.systemVolts,
  };
  payFor(state, crank, moment.plan.class.capacityAh);
  return crank;
}

/** How long a key is held for a crank that does not fire: least, and spread, seconds. */
const SECONDS_OF: Readonly<Record<CrankKind, readonly [number, number]>> = {
  turning: [6, 3],
  slow: [2.5, 3.5],
  click: [0.6, 1.2],
  free_spin: [1, 1.5],
  chatter: [0.4, 0.8],
};

function ampsOf(kind: CrankKind, of: { turning: number; stall: number; systemVolts: number }): number {
  if (kind === 'click') return of.systemVolts === 12 ? 34 : 24; // hold-in winding, about 0.5 Ω in 12 V frames (TM)
  if (kind === 'free_spin') return of.systemVolts === 12 ? 90 : 110; // no-load draw ≤ 90 A (TM, car)
  return kind === 'chatter' ? 0.45 * of.stall : of.turning;
}

type Scene = { circuit: Circuit; ambientC: number; oilC: number };

function sceneOf(state: EngineState, moment: Moment, secondOfDay: number): Scene {
  const { plan, climate, day } = moment;
  const hours = Math.max(0, (day * 86_400 + secondOfDay - state.stoppedAt) / 3600);
  const ambientC = temperatureC(climate, day, secondOfDay);
  const oilC = ambientC + (78 - ambientC) * Math.exp(-hours / 2.5);
  const tempC = ambientC + plan.class.compartmentC * 0.7 * Math.exp(-hours / 6);
  const { battery } = state;
  const scale = plan.class.systemVolts / 12;
  const bank = { charge: battery.charge, tempC, agm: plan.class.agm, systemVolts: plan.class.systemVolts };
  const surface = 0.2 * Math.exp(-hours / 1.5) * Math.min(1, battery.charge);
  const keyLoads = 0.05 + 0.02 * state.random.cranks.normal();
  const missingCell = battery.broken === 'cell_short' ? 2.05 : 0;
  const openVolts = openCircuitVolts(bank) + scale * (surface - keyLoads) - missingCell;
  const batteryOhms = bankOhms({
    ...bank,
    ccaA: plan.class.batteryCcaA,
    ageing: resistanceFactor(battery) / Math.sqrt(Math.min(1, 0.4 + capacity(battery))),
  });
  const cableOhms = state.cableOhms * (1 + state.corrosion);
  const motorOhms =
    state.motorOhms *
    (1 + addedResistance(state.starter)) *
    (1 + 0.0015 * (oilC - 25)) *
    (1 + 0.02 * state.random.cranks.normal());
  return { circuit: { openVolts, batteryOhms, cableOhms, motorOhms }, ambientC, oilC };
}

function kindOf(state: EngineState, seen: { stallVolts: number; rpm: number; systemVolts: number }): CrankKind {
  const random = state.random.cranks;
  const { starter } = state;
  if (starter.broken === 'drive_clutch') return 'free_spin';
  if (starter.broken === 'winding' || random.chance(deadSpotChance(starter)) || random.chance(clickChance(starter)))
    return 'click';
  if (seen.stallVolts < HOLD_IN_SHARE * seen.systemVolts) return 'chatter';
  return seen.rpm < LEAST_SPEED_SHARE * state.engine.warmRpm ? 'slow' : 'turning';
}

function secondsToFire(state: EngineState, plan: UnitPlan, seen: { rpm: number; oilC: number }): number {
  const cold = Math.max(0, 20 - seen.oilC) / 20;
  const coldFactor = 1 + (plan.class.fuel === 'diesel' ? 0.55 : 0.3) * cold;
  const slow = (state.engine.warmRpm / Math.max(1, seen.rpm)) ** 1.3;
  return plan.class.fireSeconds * coldFactor * slow * state.random.cranks.lognormal(0.16);
}

/** Regulated, less by 20 mV a degree (18 to 30, from memory), within 13.6 to 14.9 V for 12 V; a weak alternator gives less. */
function chargeVolts(state: EngineState, plan: UnitPlan, ambientC: number): number {
  const volts = Math.min(14.9, Math.max(13.6, 14.25 - 0.02 * (ambientC - 20)));
  return (plan.class.systemVolts / 12) * (state.alternatorWeak ? 12.2 + 0.7 * state.battery.charge : volts);
}

function payFor(state: EngineState, crank: Crank, ratedAh: number): void {
  const ampSeconds =
    crank.amps * crank.seconds + (crank.kind === 'turning' ? 0.06 * stalledCrank(crank.circuit).amps : 0);
  discharge(state.battery, ampSeconds, ratedAh);
  const dipShare = stalledCrank(crank.circuit).volts / crank.circuit.openVolts;
  wearStarter(state.starter, {
    ampSeconds: crank.kind === 'click' ? 0 : ampSeconds,
    dipShare,
    random: state.random.cranks,
  });
}

function culpritOf(state: EngineState, cranks: readonly Crank[]): Culprit {
  const last = cranks.at(-1)!;
  if (last.kind === 'click' || last.kind === 'free_spin') return 'starter';
  if (last.kind === 'turning' && state.fuelFault) return 'fuel';
  if (state.corrosion > CORRODED && !pastUse(state.battery)) return 'cables';
  if (state.alternatorWeak) return 'charging';
  if (!pastUse(state.battery) && state.battery.charge > 0.7 && addedResistance(state.starter) > 0.4) return 'starter';
  return pastUse(state.battery) ? 'battery' : 'flat';
}
