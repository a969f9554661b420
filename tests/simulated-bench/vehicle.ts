import type { Random } from './random.ts';

/** A vehicle in good order at +20 °C: what its battery, starter and engine are like. SI units; speeds at the crankshaft. */
export type Vehicle = {
  kind: 'petrol car' | 'diesel car' | 'van' | 'pick-up' | 'truck' | 'bus' | 'machine';
  systemVolts: 12 | 24;
  cylinders: number;
  fuel: 'petrol' | 'diesel';
  /** Of the bank. */
  ccaA: number;
  agm: boolean;
  cableOhms: number;
  motor: MotorDesign;
  engine: EngineDesign;
  /** Hold-in and pull-in windings, ohm; plunger travel in and back, s; volts that move and hold it. */
  solenoid: {
    holdOhms: number;
    pullOhms: number;
    inSeconds: number;
    backSeconds: number;
    pullV: number;
    dropV: number;
  };
  alternator: { setVolts: number; mostAmps: number; excitesAfter: number };
};

export type MotorDesign = {
  series: boolean;
  ohms: number;
  /** Electrical time constant at standstill, s. */
  tau: number;
  /** Brush drop, V. */
  brushVolts: number;
  /** Share of the open-circuit voltage that falls over resistances while it turns the warm engine. */
  loadShare: number;
  noLoadAmps: number;
};

export type EngineDesign = {
  warmRpm: number;
  /** Peak compression torque of all cylinders together over mean torque. */
  peakShare: number;
  /** Exponent of compression and share of its work that the expansion does not give back. */
  polytropic: number;
  ratio: number;
  lost: number;
  /** Time constant of the spin-up, s. */
  spinUp: number;
  /** Each cylinder's compression over that of the best. */
  cylinder: number[];
  idleRpm: number;
};

const KINDS: readonly Vehicle['kind'][] = ['petrol car', 'diesel car', 'van', 'pick-up', 'truck', 'bus', 'machine'];

type Range = readonly [number, number];
type Kind = { cylinders: readonly number[]; volts: 12 | 24; rpm: Range; cca: Range; diesel: boolean };

const TABLE: Record<Vehicle['kind'], Kind> = {
  'petrol car': { cylinders: [4, 4, 5, 6], volts: 12, rpm: [170, 260], cca: [380, 680], diesel: false },
  'diesel car': { cylinders: [4, 4, 5, 6], volts: 12, rpm: [160, 230], cca: [640, 850], diesel: true },
  van: { cylinders: [4, 5, 6], volts: 12, rpm: [150, 215], cca: [700, 950], diesel: true },
  'pick-up': { cylinders: [6, 8, 8], volts: 12, rpm: [150, 215], cca: [600, 850], diesel: false },
  truck: { cylinders: [6, 6, 8], volts: 24, rpm: [110, 175], cca: [900, 1150], diesel: true },
  bus: { cylinders: [5, 6], volts: 24, rpm: [110, 170], cca: [1000, 1150], diesel: true },
  machine: { cylinders: [4, 6, 8, 12], volts: 24, rpm: [100, 170], cca: [800, 1200], diesel: true },
};

export function drawVehicle(random: Random): Vehicle {
  const kind = random.among(KINDS);
  const { cylinders, volts, rpm, cca, diesel } = TABLE[kind];
  const system = volts / 12;
  const count = random.among(cylinders);
  const ccaA = random.between(...cca);
  const batteryOhms = (system * 3) / ccaA;
  return {
    kind,
    systemVolts: volts,
    cylinders: count,
    fuel: diesel ? 'diesel' : 'petrol',
    ccaA,
    agm: random.chance(0.25),
    cableOhms: random.between(0.0006, 0.0013) * system,
    motor: {
      series: volts === 24 || random.chance(0.25),
      ohms: batteryOhms * random.between(0.8, 1.4),
      tau: random.between(0.0008, 0.003),
      brushVolts: random.between(0.1, 0.5) * system,
      loadShare: random.between(0.28, 0.42),
      noLoadAmps: random.between(55, 95),
    },
    engine: drawEngine(random, { count, rpm, diesel }),
    solenoid: {
      holdOhms: random.between(0.6, 1) * system * system * 0.8,
      pullOhms: random.between(0.16, 0.28) * system * system * 0.7,
      inSeconds: random.between(0.018, 0.05),
      backSeconds: random.between(0.008, 0.03),
      pullV: random.between(6.5, 8) * system,
      dropV: random.between(2.2, 3.2) * system,
    },
    alternator: {
      setVolts: random.between(13.9, 14.6) * system,
      mostAmps: random.between(60, 140),
      excitesAfter: random.between(0.2, 3),
    },
  };
}

function drawEngine(
  random: Random,
  { count, rpm, diesel }: { count: number; rpm: Range; diesel: boolean },
): EngineDesign {
  return {
    warmRpm: random.between(...rpm),
    peakShare: random.between(0.45, 1.15) * (count >= 8 ? 0.6 : 1),
    polytropic: random.between(1.2, 1.33),
    ratio: diesel ? random.between(15, 18.5) : random.between(9, 11.5),
    lost: random.between(0.12, 0.25),
    spinUp: random.between(0.05, 0.14),
    cylinder: Array.from({ length: count }, () => 1 - 0.05 * random.even()),
    idleRpm: diesel ? random.between(600, 850) : random.between(680, 950),
  };
}
