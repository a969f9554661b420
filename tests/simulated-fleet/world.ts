/**
 * What a fleet lives in: its climate, how its parts wear, what its loggers and its records are like. The figures are
 * invented; they were chosen once so that a fifth of the batteries and a tenth of the starters fail in a year.
 */
export type World = {
  name: string;
  depots: readonly Depot[];
  battery: {
    /** Design life at 20 °C, days, by class. */
    days: Record<FleetClass, number>;
    rateSd: number;
    /** The rate itself wanders: sd of its logarithm. */
    wanderSd: number;
    /** Capability lost at the end of life is `fade` · x + `drop` · x^`power`. */
    fade: number;
    drop: number;
    power: readonly [low: number, high: number];
    /** Capability needed at 27 °C, and how strongly the need follows the cold. */
    limit: number;
    limitSd: number;
    coldExponent: number;
    suddenPerYear: number;
  };
  starter: {
    starts: Record<FleetClass, number>;
    rateSd: number;
    power: readonly [low: number, high: number];
    limitSd: number;
    suddenPerYear: number;
  };
  /** Volts, sd of one reading. */
  voltsNoise: number;
  /** Of battery changes, the share that nobody writes down. */
  unrecorded: number;
  /** Of dead starters that are not changed at once, the share that is met with a new battery. */
  wrongPart: number;
  /** Of units, the share whose parts are in the register, and of loggers, the share that falls silent. */
  partsKnown: number;
  silentShare: number;
};

export const FLEET_CLASSES = ['petrol van', 'long-haul truck', 'diesel bus'] as const;
export type FleetClass = (typeof FLEET_CLASSES)[number];
export type Depot = { name: string; meanC: number; seasonC: number; weatherSd: number };

export type ClassDesign = {
  letter: string;
  systemVolts: 12 | 24;
  ccaA: number;
  cylinders: number;
  fuel: string;
  startsPerDay: readonly [low: number, high: number];
  warmRpm: number;
  fireSeconds: number;
  /** Warmer under the bonnet than outside, K. */
  heatK: number;
};

export const CLASS_DESIGN: Record<FleetClass, ClassDesign> = {
  'petrol van': {
    letter: 'P',
    systemVolts: 12,
    ccaA: 640,
    cylinders: 4,
    fuel: 'petrol',
    startsPerDay: [3, 9],
    warmRpm: 210,
    fireSeconds: 0.6,
    heatK: 9,
  },
  'long-haul truck': {
    letter: 'H',
    systemVolts: 24,
    ccaA: 1050,
    cylinders: 6,
    fuel: 'diesel',
    startsPerDay: [2, 5],
    warmRpm: 150,
    fireSeconds: 0.9,
    heatK: 3,
  },
  'diesel bus': {
    letter: 'B',
    systemVolts: 24,
    ccaA: 1150,
    cylinders: 6,
    fuel: 'diesel',
    startsPerDay: [2, 7],
    warmRpm: 160,
    fireSeconds: 0.8,
    heatK: 12,
  },
};

const NORTH: World = {
  name: 'north',
  depots: [
    { name: 'Harrowgap', meanC: 6, seasonC: 12, weatherSd: 3.5 },
    { name: 'Dunmere', meanC: 8, seasonC: 11, weatherSd: 3.5 },
    { name: 'Port Ansel', meanC: 10, seasonC: 8, weatherSd: 3 },
  ],
  battery: {
    days: { 'petrol van': 1450, 'long-haul truck': 1050, 'diesel bus': 1300 },
    rateSd: 0.3,
    wanderSd: 0.3,
    fade: 0.15,
    drop: 0.4,
    power: [2.5, 5],
    limit: 0.25,
    limitSd: 0.08,
    coldExponent: 0.6,
    suddenPerYear: 0.03,
  },
  starter: {
    starts: { 'petrol van': 9500, 'long-haul truck': 6000, 'diesel bus': 7500 },
    rateSd: 0.35,
    power: [3, 6],
    limitSd: 0.1,
    suddenPerYear: 0.025,
  },
  voltsNoise: 0.06,
  unrecorded: 0.05,
  wrongPart: 0.6,
  partsKnown: 0.55,
  silentShare: 0.05,
};

/** Warm and even: heat wears batteries, and hardly any morning is colder than another. */
const SOUTH: World = {
  ...NORTH,
  name: 'south',
  depots: [
    { name: 'Casa Verro', meanC: 21, seasonC: 6, weatherSd: 2.5 },
    { name: 'Lower Quill', meanC: 17, seasonC: 8, weatherSd: 3 },
  ],
  battery: {
    ...NORTH.battery,
    days: { 'petrol van': 2300, 'long-haul truck': 1750, 'diesel bus': 2100 },
    fade: 0.25,
    drop: 0.3,
    power: [1.5, 3],
    limit: 0.47,
    coldExponent: 0.25,
  },
  starter: { ...NORTH.starter, power: [2, 4] },
};

/** Wear shows late and rises fast, loggers are coarse, records careless. */
const CARELESS: World = {
  ...NORTH,
  name: 'careless',
  battery: { ...NORTH.battery, fade: 0.08, drop: 0.47, power: [5, 9], wanderSd: 0.4 },
  starter: { ...NORTH.starter, power: [6, 10], limitSd: 0.14 },
  voltsNoise: 0.14,
  unrecorded: 0.12,
  wrongPart: 0.9,
  partsKnown: 0.35,
  silentShare: 0.1,
};

export const WORLDS: readonly World[] = [NORTH, SOUTH, CARELESS];

export function worldOf(name: string): World {
  const world = WORLDS.find((each) => each.name === name);
  if (world === undefined)
    throw new RangeError(`world requires one of ${WORLDS.map((each) => each.name).join(', ')}, got ${name} (world)`);
  return world;
}
