/**
 * Puts a fault into a plan, as severe as it takes to matter: a fault that slows the starter takes 40 to 65 % of the speed
 * that this vehicle would turn at in this weather.
 */
import { batteryOhms, openVolts } from './battery.ts';
import type { Fault, Plan } from './plan.ts';
import type { Random } from './random.ts';

/** Speed of a steadily turning permanent-magnet starter over the warm one, and the current over the rated one. */
export function expectedSpeed(plan: Plan, friction = plan.friction): number {
  const { vehicle, extra } = plan;
  const { motor, systemVolts, cableOhms } = vehicle;
  const good = { ...plan.battery, charge: 1, tempC: 25, wear: 1, surfaceVolts: 0, agm: false };
  const nominal = (12.6 * systemVolts) / 12 - motor.brushVolts;
  const goodOhms = batteryOhms(good) + cableOhms + motor.ohms;
  const amps = (friction * motor.loadShare * nominal) / goodOhms;
  const ohms = 1.1 * batteryOhms(plan.battery) + cableOhms + motor.ohms + extra.cableOhms + extra.motorOhms;
  const emf = openVolts(plan.battery) - motor.brushVolts - amps * ohms;
  return emf / ((1 - motor.loadShare) * nominal);
}

export function drawFault(random: Random, plan: Plan): void {
  if (plan.presses.length > 0) DRAWS[plan.fault]?.(random, plan);
}

type Draw = (random: Random, plan: Plan) => void;

const DRAWS: Partial<Record<Fault, Draw>> = {
  'weak battery': byBattery,
  'flat battery': (random, plan) => {
    plan.battery.charge = random.between(0, 0.15);
    plan.battery.surfaceVolts = 0;
    plan.battery.agm = false;
    byBattery(random, plan);
  },
  'bad cable': (random, plan) => slowBy(random, plan, (ohms) => (plan.extra.cableOhms += ohms)),
  'worn starter': (random, plan) => slowBy(random, plan, (ohms) => (plan.extra.motorOhms += ohms)),
  drag: (random, plan) => {
    plan.friction *= random.between(1.5, 1.9);
    while (expectedSpeed(plan) < 0.25) plan.friction *= 0.95;
  },
  'weak cylinder': (random, { vehicle }) => {
    vehicle.engine.cylinder[Math.floor(random.even() * vehicle.cylinders)] = random.between(0.45, 0.75);
  },
  'does not fire': (random, plan) => {
    for (const each of plan.presses) each.firesAfter = Infinity;
    plan.presses[0]!.most = random.between(5.5, 12);
    stretch(plan);
  },
  'brush dropouts': (random, plan) => (plan.brushesOpen = drawGaps(random, plan)),
  'control dropouts': (random, plan) =>
    (plan.controlLost = drawGaps(random, plan).map((gap) => ({
      ...gap,
      at: gap.at + plan.vehicle.solenoid.inSeconds,
    }))),
  'chatter by battery': (random, plan) => {
    plan.battery.charge = random.between(0, 0.25);
    plan.battery.wear = random.between(4, 8);
    chatters(random, plan);
  },
  'chatter by cable': (random, plan) => {
    plan.extra.cableOhms += batteryOhms({ ...plan.battery, wear: 1 }) * random.between(5, 10);
    chatters(random, plan);
  },
  'free spin': inVain,
  'solenoid only': inVain,
  'no response, control': inVain,
  'no response, winding': inVain,
};

function byBattery(random: Random, plan: Plan): void {
  slowBy(random, plan, (ohms) => (plan.battery.wear += ohms / batteryOhms({ ...plan.battery, wear: 1 })));
}

/** One to four gaps in a crank that fires after the last of them. */
function drawGaps(random: Random, plan: Plan): { at: number; seconds: number }[] {
  const press = plan.presses[0]!;
  const gaps = Array.from({ length: 1 + Math.floor(4 * random.even()) }, (_, k) => ({
    at: 0.35 + k * 0.45 + 0.2 * random.even(),
    seconds: random.between(0.03, 0.16),
  }));
  press.firesAfter = Math.max(press.firesAfter, gaps.at(-1)!.at + random.between(0.2, 0.6));
  return gaps;
}

/** The hold-in lets go early, and the plunger takes its time: three to fifteen times a second. */
function chatters(random: Random, plan: Plan): void {
  const { solenoid, systemVolts } = plan.vehicle;
  solenoid.inSeconds = random.between(0.025, 0.11);
  solenoid.backSeconds = random.between(0.025, 0.14);
  solenoid.dropV = (random.between(5, 5.8) * systemVolts) / 12;
  inVain(random, plan);
}

/** The key is held for a while, and nothing comes of it. */
function inVain(random: Random, plan: Plan): void {
  for (const each of plan.presses) {
    each.firesAfter = Infinity;
    each.most = random.between(0.5, 3);
  }
  stretch(plan);
}

/** Resistance until the speed has fallen to 35 to 60 % of what it would be. */
function slowBy(random: Random, plan: Plan, add: (ohms: number) => void): void {
  const target = random.between(0.35, 0.6) * Math.max(0.4, expectedSpeed(plan));
  const step = 0.03 * batteryOhms({ ...plan.battery, wear: 1, tempC: 25 });
  for (let k = 0; k < 400 && expectedSpeed(plan) > target; k++) add(step);
}

/** Presses that became longer push the later ones on. */
function stretch(plan: Plan): void {
  let before = -Infinity;
  for (const press of plan.presses) {
    if (press.at < before + 0.9) press.at = before + 0.9;
    before = press.at + press.most;
  }
  plan.seconds = Math.max(plan.seconds, before + 2);
}
