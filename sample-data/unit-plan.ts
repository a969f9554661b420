import type { LoggerKind } from './logger.ts';
import type { Depot } from './region.ts';
import type { UnitClass } from './unit-class.ts';

/** From and to (excluded), days. */
export type Spell = readonly [from: number, to: number];

/** What is laid down for one engine instead of being drawn. Days before the log's last day. */
export type EngineScript = {
  battery?: { fittedBefore: number; damageAtEnd: number; knee: number };
  starter?: { fittedBefore: number; brushAtEnd: number };
  /** The first failure of the starter is met with a new battery. */
  wrongPartFirst?: boolean;
  /** Nobody replaces anything before it fails. */
  leftAlone?: boolean;
  /** A battery is changed and nobody writes it down. */
  unrecordedBatteryBefore?: number;
  /** A cell shorts on this day. */
  cellShortBefore?: number;
  /** A consumer that stays on, mA, from and until. */
  drain?: { milliamps: number; fromBefore: number; untilBefore: number };
  corrosionPerSaltDay?: number;
};

/** Everything about a unit that is settled before its history runs. */
export type UnitPlan = {
  index: number;
  unit: string;
  depot: Depot;
  class: UnitClass;
  inServiceDay: number;
  /** First day out of service, or null. */
  outOfServiceDay: number | null;
  firstVisitDay: number;
  startsPerDay: number;
  /** mA drawn while parked. */
  drainMilliamps: number;
  corrosionPerSaltDay: number;
  weakCylinder: number;
  lightsLeftOnPerYear: number;
  logger: LoggerKind;
  loggerSwap: { day: number; to: LoggerKind } | null;
  logsTemperature: boolean;
  recordsWaveforms: boolean;
  silent: readonly Spell[];
  parked: readonly Spell[];
  /** How the people of this unit write. */
  hand: number;
  partsKnown: boolean;
  story: string | null;
  scripts: Readonly<Record<string, EngineScript>>;
};

export function inSpell(spells: readonly Spell[], day: number): boolean {
  return spells.some(([from, to]) => day >= from && day < to);
}

export function loggerOn(plan: UnitPlan, day: number): LoggerKind {
  return plan.loggerSwap !== null && day >= plan.loggerSwap.day ? plan.loggerSwap.to : plan.logger;
}
