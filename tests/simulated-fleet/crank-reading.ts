import { capability, coldNeed } from './battery.ts';
import type { Draws } from './draws.ts';
import { addedResistance } from './starter.ts';
import type { FleetUnit } from './unit.ts';
import type { World } from './world.ts';

/** What one crank truly read, before a gateway saw it. Volts of the whole bank. */
export type CrankReading = {
  second: number;
  rest: number;
  dip: number;
  crank: number;
  seconds: number;
  rpm: number;
  tempC: number;
  started: boolean;
};

/** Resistance of a new warm 12 V battery: half the load test's pass limit of 6.0/CCA. */
const OHMS_TIMES_CCA = 3;
/** Loop of cables and motor over it: a healthy sag ratio of two thirds. */
const LOOP = 1.5;
/** Rolling drop over inrush drop of a warm engine. */
const ROLLING = 0.4;

type Moment = { second: number; tempC: number; engineWarm: boolean; draws: Draws };

export function crankReading(
  unit: FleetUnit,
  world: World,
  { second, tempC, engineWarm, draws }: Moment,
): CrankReading {
  const { design, battery, charge } = unit;
  const scale = design.systemVolts / 12;
  const open = 11.75 + 0.95 * charge + 0.0015 * (tempC - 25);
  const cell = (OHMS_TIMES_CCA / design.ccaA) * (1 + 0.6 * (1 - charge));
  const bank = ((cell * 2 ** ((25 - tempC) / 43)) / capability(battery, world)) * (battery.broken ? 3 : 1);
  const loop = (OHMS_TIMES_CCA / design.ccaA) * LOOP * unit.loop * (1 + addedResistance(unit.starter));
  const stiff = engineWarm ? 0.92 : 1 + 0.25 * (coldNeed(tempC) ** 0.5 - 1);
  const amps = (ROLLING * unit.drag * stiff * 12.6 * design.ccaA) / (OHMS_TIMES_CCA * (1 + LOOP));
  const left = Math.max(0.02, 1 - (amps * (bank + loop)) / open);
  const rpm = (design.warmRpm * unit.speed * left) / (1 - ROLLING);
  const noise = () => world.voltsNoise * draws.normal();
  return {
    second,
    rest: scale * (open - 0.1 + noise()),
    dip: scale * ((open * loop) / (bank + loop) + noise()),
    crank: scale * (open - Math.min(amps, open / (bank + loop)) * bank + noise()),
    seconds: (design.fireSeconds + (45 / Math.max(25, rpm)) * (engineWarm ? 0.5 : 1)) * draws.lognormal(0.18),
    rpm: rpm * draws.lognormal(0.03),
    tempC,
    started: true,
  };
}

/** A try on which the contacts or brushes let little through: short, shallow, nothing turns. */
export function lostContact(next: CrankReading, draws: Draws): CrankReading {
  const drop = (next.rest - next.dip) * draws.between(0.05, 0.25);
  return {
    ...next,
    second: next.second - draws.between(3, 9),
    dip: next.rest - 1.3 * drop,
    crank: next.rest - drop,
    seconds: draws.between(0.3, 1.2),
    rpm: 0,
    started: false,
  };
}

/** A bank that cannot: long, deep, slow. */
export function tooWeak(reading: CrankReading, draws: Draws): CrankReading {
  return {
    ...reading,
    dip: reading.dip * draws.between(0.7, 0.9),
    crank: reading.crank * draws.between(0.6, 0.85),
    seconds: draws.between(2, 9),
    rpm: reading.rpm * draws.between(0, 0.4),
    started: false,
  };
}
