import type { Random } from './random.ts';
import { stalledCrank } from './crank-circuit.ts';
import type { Crank } from './crank.ts';

/**
 * What stands between the truth and the file: a logger samples at its own rate, rounds to its own step, and a gateway
 * sums a crank up in one row. A slow one misses the dip, which lasts some tens of milliseconds.
 */
export type LoggerKind = {
  name: string;
  rateHz: number;
  stepVolts: number;
  noiseVolts: number;
  /** What the input averages over, seconds; a slow one smooths the inrush away. */
  smoothSeconds: number;
  rpm: boolean;
  amps: boolean;
  outcome: boolean;
};

export const LOGGERS = {
  fast: {
    name: 'fast',
    rateHz: 100,
    stepVolts: 0.01,
    noiseVolts: 0.012,
    smoothSeconds: 0,
    rpm: true,
    amps: false,
    outcome: true,
  },
  plain: {
    name: 'plain',
    rateHz: 50,
    stepVolts: 0.02,
    noiseVolts: 0.015,
    smoothSeconds: 0,
    rpm: false,
    amps: false,
    outcome: false,
  },
  shunt: {
    name: 'shunt',
    rateHz: 250,
    stepVolts: 0.01,
    noiseVolts: 0.01,
    smoothSeconds: 0,
    rpm: true,
    amps: true,
    outcome: true,
  },
  slow: {
    name: 'slow',
    rateHz: 20,
    stepVolts: 0.05,
    noiseVolts: 0.02,
    smoothSeconds: 0.12,
    rpm: false,
    amps: false,
    outcome: true,
  },
} as const satisfies Record<string, LoggerKind>;

/** One row of a gateway; null is an empty cell. */
export type CrankRow = {
  restVolts: number;
  dipVolts: number;
  crankVolts: number | null;
  crankSeconds: number;
  crankRpm: number | null;
  chargeVolts: number | null;
  ampsPeak: number | null;
};

/** Seconds that the motor stands still with full current before it breaks away, and the time constant of its spin-up. */
export const STALLED_SECONDS = 0.028;
export const SPIN_UP_SECONDS = 0.075;
/** Rise of the inrush current through the loop's inductance. */
export const INRUSH_SECONDS = 0.003;
/** The solenoid's own step before the inrush. */
export const SOLENOID_SECONDS = 0.045;
/** Pull-in and hold-in winding together, by system voltage (60 to 85 A at 10 V in car frames, TM; heavy frames from memory). */
export const PULL_IN_AMPS: Readonly<Record<12 | 24, number>> = { 12: 75, 24: 60 };
/** Height of the compression ripple over the mean current. */
export const RIPPLE_SHARE = 0.17;
/** While cranking the bank polarises: this much more resistance than at inrush. */
export const POLARISATION = 1.08;

/** Current this long after onset, A. */
export function inrushAmps(crank: Crank, seconds: number): number {
  const stall = stalledCrank(crank.circuit).amps;
  const rise = 1 - Math.exp(-seconds / INRUSH_SECONDS);
  if (seconds <= STALLED_SECONDS) return stall * rise;
  return crank.amps + (stall - crank.amps) * Math.exp(-(seconds - STALLED_SECONDS) / SPIN_UP_SECONDS);
}

export function gatewayRow(crank: Crank, logger: LoggerKind, random: Random): CrankRow {
  const noisy = (volts: number): number =>
    Math.round((volts + logger.noiseVolts * random.normal()) / logger.stepVolts) * logger.stepVolts;
  const first = 0.004 + random.uniform() / logger.rateHz;
  const turned = crank.kind === 'turning' || crank.kind === 'slow';
  const rollingAmps = crank.amps * POLARISATION;
  const peakAmps = Math.max(rollingAmps * (turned ? 1 + RIPPLE_SHARE : 1), peakSeen(crank, first, logger));
  const seconds = crank.seconds + (random.uniform() - 0.5) / logger.rateHz;
  return {
    restVolts: noisy(crank.restVolts),
    dipVolts: noisy(crank.restVolts - peakAmps * crank.circuit.batteryOhms),
    crankVolts: crank.seconds > 0.3 ? noisy(crank.restVolts - rollingAmps * crank.circuit.batteryOhms) : null,
    crankSeconds: Math.max(1 / logger.rateHz, seconds),
    crankRpm: logger.rpm && turned ? crank.rpm * (1 + 0.012 * random.normal()) : null,
    chargeVolts: crank.started ? noisy(crank.chargeVolts) : null,
    ampsPeak: logger.amps ? peakAmps * (1 + 0.01 * random.normal()) : null,
  };
}

/** The highest current that a logger can see whose first sample comes so long after onset: in its first or second. */
function peakSeen(crank: Crank, first: number, logger: LoggerKind): number {
  if (crank.kind === 'click') return first < SOLENOID_SECONDS ? PULL_IN_AMPS[crank.systemVolts] : crank.amps;
  if (crank.kind === 'free_spin') return crank.amps + freeSpinInrush(crank, first);
  const seen = (at: number): number =>
    smoothed((seconds) => inrushAmps(crank, Math.max(0, seconds)), at + logger.smoothSeconds / 2, logger.smoothSeconds);
  return Math.max(seen(first), seen(first + 1 / logger.rateHz));
}

/** A motor that meets no load is up to speed within a tenth of a second. */
export function freeSpinInrush(crank: Crank, seconds: number): number {
  return 0.6 * stalledCrank(crank.circuit).amps * Math.exp(-seconds / 0.03);
}

/** Mean of a current over the time that an input averages, up to `seconds`. */
export function smoothed(amps: (seconds: number) => number, seconds: number, over: number): number {
  if (over === 0) return amps(seconds);
  let sum = 0;
  for (let step = 0; step < SMOOTHING_STEPS; step += 1) sum += amps(seconds - (over * step) / SMOOTHING_STEPS);
  return sum / SMOOTHING_STEPS;
}

const SMOOTHING_STEPS = 6;
