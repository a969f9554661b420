import { newBattery, type Battery } from './battery.ts';
import { Draws } from './draws.ts';
import { newStarter, type Starter } from './starter.ts';
import { CLASS_DESIGN, FLEET_CLASSES, type ClassDesign, type Depot, type FleetClass, type World } from './world.ts';

/** One vehicle: what it is, what it is like, and what stands in it today. */
export type FleetUnit = {
  unit: string;
  class: FleetClass;
  design: ClassDesign;
  depot: Depot;
  inServiceDay: number;
  startsPerDay: number;
  /** Its own resistance of cables and motor, its own speed and drag, over those of the class. */
  loop: number;
  speed: number;
  drag: number;
  gateway: Gateway;
  partsKnown: boolean;
  firstVisitDay: number;
  battery: Battery;
  starter: Starter;
  /** Charge of the bank, 1 full. */
  charge: number;
};

/** How the unit's gateway sees it. */
export type Gateway = {
  make: 'A' | 'B';
  /** Share of the inrush that falls between its samples, and the spread of that. */
  dipLost: number;
  dipLostSd: number;
  stepVolts: number;
  offsetVolts: number;
  logsSpeed: boolean;
  logsTemperature: boolean;
  /** Days from and until (excluded) without any row. */
  gaps: readonly (readonly [from: number, to: number])[];
};

const OLDEST_DAYS = 8 * 365;
const VISIT_DAYS = 120;
export const MOST_PAST_DAYS = OLDEST_DAYS;

export type Span = { firstDay: number; lastDay: number };

export function drawUnit(world: World, { seed, index, span }: { seed: number; index: number; span: Span }): FleetUnit {
  const draws = new Draws(seed, 'unit', index);
  const fleetClass = draws.among(FLEET_CLASSES);
  const design = CLASS_DESIGN[fleetClass];
  const inServiceDay = span.firstDay - draws.whole(0, OLDEST_DAYS - 1);
  const fitted = { day: inServiceDay, draws: new Draws(seed, 'parts', index) };
  return {
    unit: `${design.letter}${1000 + index}`,
    class: fleetClass,
    design,
    depot: draws.among(world.depots),
    inServiceDay,
    startsPerDay: draws.between(...design.startsPerDay),
    loop: draws.lognormal(0.07),
    speed: draws.lognormal(0.05),
    drag: draws.lognormal(0.05),
    gateway: drawGateway(world, { draws: new Draws(seed, 'gateway', index), design, span }),
    partsKnown: draws.chance(world.partsKnown),
    firstVisitDay: inServiceDay + draws.whole(1, VISIT_DAYS),
    battery: newBattery(world, fleetClass, fitted),
    starter: newStarter(world, fleetClass, fitted),
    charge: 0.95,
  };
}

type GatewayDraw = { draws: Draws; design: ClassDesign; span: Span };

function drawGateway(world: World, { draws, design, span }: GatewayDraw): Gateway {
  const make = draws.chance(0.6) ? 'A' : 'B';
  const scale = design.systemVolts / 12;
  const days = span.lastDay - span.firstDay;
  const gaps = Array.from({ length: draws.poisson((1.2 * days) / 365) }, () => {
    const from = draws.whole(span.firstDay, span.lastDay);
    return [from, from + draws.whole(4, 25)] as const;
  });
  if (draws.chance(world.silentShare))
    gaps.push([draws.whole(span.firstDay + 60, span.lastDay), span.lastDay + 1] as const);
  return {
    make,
    dipLost: make === 'A' ? 0.03 : 0.22,
    dipLostSd: make === 'A' ? 0.015 : 0.06,
    stepVolts: (make === 'A' ? 0.01 : 0.05) * scale,
    offsetVolts: 0.05 * draws.normal() * scale,
    logsSpeed: make === 'A',
    logsTemperature: draws.chance(make === 'A' ? 0.85 : 0.45),
    gaps,
  };
}

export function isVisitDay({ firstVisitDay }: FleetUnit, day: number): boolean {
  return day >= firstVisitDay && (day - firstVisitDay) % VISIT_DAYS === 0;
}
