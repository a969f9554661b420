/** Draws what happens to a vehicle in one recording: situation, fault, weather, driver, loads. Everything from one seed. */
import { drawFault, expectedSpeed } from './fault-plan.ts';
import { FAULTS, type Fault, type Load, type Plan, type Press, type Situation } from './plan.ts';
import { Random } from './random.ts';
import { drawVehicle, type Vehicle } from './vehicle.ts';

/** Faults as often as they are looked at: vehicles in order most of all. */
const WEIGHTS: Record<Fault, number> = {
  none: 14,
  'weak battery': 5,
  'flat battery': 4,
  'bad cable': 4,
  'worn starter': 4,
  'brush dropouts': 4,
  'control dropouts': 3,
  'solenoid only': 4,
  'chatter by battery': 4,
  'chatter by cable': 2,
  'no response, control': 2,
  'no response, winding': 2,
  'free spin': 3,
  drag: 3,
  'does not fire': 5,
  'weak cylinder': 3,
};
const BAG: readonly Fault[] = FAULTS.flatMap((fault) => Array.from({ length: WEIGHTS[fault] }, () => fault));

export function drawPlan(seed: number): Plan {
  const random = new Random(seed);
  const vehicle = drawVehicle(random);
  const situation = drawSituation(random, vehicle);
  const crankless = situation === 'loads only' || situation === 'engine idles';
  const startStop = situation === 'start-stop';
  const fault = crankless || startStop ? 'none' : random.among(BAG);
  const tempC = startStop ? random.between(0, 45) : random.chance(0.3) ? random.between(-30, 0) : random.between(0, 45);
  const warm = startStop || random.chance(0.3);
  const coolantC = warm ? random.between(60, 95) : tempC;
  const plan: Plan = {
    vehicle,
    battery: {
      systemVolts: vehicle.systemVolts,
      ccaA: vehicle.ccaA,
      agm: vehicle.agm,
      charge: random.between(0.7, 1),
      tempC,
      wear: random.between(0.9, 1.25),
      surfaceVolts: warm ? random.between(0.05, 0.25) : random.between(0, 0.05),
    },
    taus: { fast: random.between(0.08, 0.4), slow: random.between(5, 25) },
    fault,
    situation,
    seconds: 0,
    tempC,
    coolantC,
    presses: [],
    loads: [],
    runsUntil: -Infinity,
    friction: frictionAt(coolantC, vehicle),
    extra: { cableOhms: 0, motorOhms: 0 },
    brushesOpen: [],
    controlLost: [],
    controlOhms: random.between(0.01, 0.05) * (vehicle.systemVolts / 12),
    bounces: Array.from({ length: random.chance(0.5) ? 1 + Math.floor(3 * random.even()) : 0 }, () => ({
      at: random.between(0, 0.02),
      seconds: random.between(0.001, 0.004),
    })),
    startAngle: restingAngle(random, vehicle),
    seed,
  };
  // In order, it starts in any weather that it is sold for.
  while (expectedSpeed(plan) < 0.42) plan.friction *= 0.97;
  timetable(random, plan);
  drawFault(random, plan);
  return plan;
}

/** An engine comes to rest between two compressions: the one before it throws it back. */
function restingAngle(random: Random, { cylinders }: Vehicle): number {
  const cylinder = Math.floor(random.even() * cylinders);
  // With an odd number the dead centres lie half a spacing aside.
  return ((cylinder + random.between(0.15, 0.55)) / cylinders + (cylinders % 2) / 2 / cylinders) * 4 * Math.PI;
}

/** Oil stiffens in the cold: about 1.4 times the torque at −25 °C, over that of the warm engine. */
function frictionAt(coolantC: number, { fuel }: Vehicle): number {
  const cold = Math.max(0, 20 - coolantC);
  return 1 + (fuel === 'diesel' ? 0.0085 : 0.0075) * cold;
}

function drawSituation(random: Random, { fuel }: Vehicle): Situation {
  const draw = random.even();
  if (draw < 0.07) return 'loads only';
  if (draw < 0.12) return 'engine idles';
  if (draw < 0.2) return 'start-stop';
  if (draw < 0.3) return 'repeated start';
  if (draw < 0.55 && fuel === 'diesel') return 'preheated start';
  return 'first start';
}

function timetable(random: Random, plan: Plan): void {
  const { situation, vehicle } = plan;
  const system = vehicle.systemVolts / 12;
  const first = random.between(1.6, 5);
  plan.loads.push({ kind: 'standing', from: -60, to: 1e9, amps: random.between(0.5, 8) });
  everyday(random, plan, first);
  plan.seconds = first + random.between(6, 12);
  if (situation === 'engine idles') plan.runsUntil = random.chance(0.6) ? 1e9 : first + random.between(0, 2);
  if (situation === 'loads only' || situation === 'engine idles') return;
  if (situation === 'preheated start') {
    const to = first + random.between(3, 12);
    const amps = random.between(60, 150) / (system === 2 ? random.between(1, 1.4) : 1);
    plan.loads.push({ kind: 'heater', from: first, to, amps });
    plan.presses.push(drawPress(random, vehicle, to + random.between(0.3, 3)));
  } else if (situation === 'start-stop') {
    plan.runsUntil = random.between(2, 5);
    const press = drawPress(random, vehicle, plan.runsUntil + random.between(1.5, 10));
    plan.presses.push({ ...press, firesAfter: random.between(0.18, 0.4), reaction: random.between(0.01, 0.08) });
  } else plan.presses.push(drawPress(random, vehicle, first));
  if (situation === 'repeated start') again(random, plan);
  const last = plan.presses.at(-1)!;
  plan.seconds = last.at + last.most + random.between(1, 9);
}

/** The first attempt fails, or the engine dies after it: one or two more. */
function again(random: Random, plan: Plan): void {
  const more = random.chance(0.3) ? 2 : 1;
  for (let k = 0; k < more; k++) {
    const before = plan.presses.at(-1)!;
    if (random.chance(0.6)) {
      before.firesAfter = Infinity;
      before.most = random.between(0.5, 2.5);
    } else before.diesAfter = random.between(0.3, 2);
    plan.presses.push(drawPress(random, plan.vehicle, before.at + before.most + random.between(0.9, 9)));
  }
}

function drawPress(random: Random, { fuel }: Vehicle, at: number): Press {
  return {
    at,
    most: random.between(3.5, 5),
    reaction: random.chance(0.3) ? random.between(0.01, 0.05) : random.between(0.05, 0.45),
    firesAfter: fuel === 'diesel' ? random.between(0.35, 2) : random.between(0.3, 1.3),
    firingBuilds: random.chance(0.4) ? random.between(0.2, 0.7) : random.between(0.03, 0.2),
    diesAfter: Infinity,
  };
}

/** Lamps, blower, lift gate: what a driver switches before, between and after. */
function everyday(random: Random, { loads, situation }: Plan, first: number): void {
  const among = ['lamps', 'blower', 'lift', 'heater'] as const;
  const amps = { lamps: [5, 14], blower: [8, 28], lift: [40, 120], heater: [30, 150] } as const;
  const busy = situation === 'loads only' ? 3 : random.chance(0.4) ? 1 : 0;
  for (let k = 0; k < busy; k++) {
    const kind = random.among(situation === 'loads only' ? among : among.slice(0, 2));
    const from = situation === 'loads only' ? random.between(0.5, first + 4) : random.between(0.3, first - 0.5);
    const long = kind === 'lift' ? random.between(0.8, 4) : random.between(2, 20);
    const [least, most] = amps[kind];
    const load: Load = { kind, from, to: from + long, amps: random.between(least, most) };
    loads.push(load);
  }
}
