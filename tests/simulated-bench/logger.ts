/**
 * A data logger on a vehicle: samples the course as its kind does (plain or behind a filter, even or jittered, fine or
 * coarse, always or when triggered), and what it makes of the truth: which cranks its records hold, and how much of each.
 */
import { STEP, type Course } from './circuit.ts';
import type { Plan } from './plan.ts';
import type { Random } from './random.ts';
import type { TrueCrank } from './truth.ts';

export const RATES = [10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000, 10_000] as const;

export type LoggerKind = {
  rateHz: number;
  /** A sample lies up to half of this share of the interval aside. */
  jitter: number;
  stepVolts: number;
  noiseVolts: number;
  /** Corner of its filter, Hz, whose delay it takes into account; Infinity: it samples as it is. */
  cornerHz: number;
  leastVolts: number;
  logs: { amps: boolean; rpm: boolean; request: boolean; control: boolean; temp: boolean };
  triggered: boolean;
};

/** How a crank lies in the records: `optional` is so little of it that either answer would do. */
export type View = 'whole' | 'begun' | 'ended' | 'optional';
export type LoggedCrank = TrueCrank & {
  onsetUs: number;
  view: View;
  /** Quiet seconds of record before its onset. */
  restSeconds: number;
  /** Lowest of its samples while the motor stood, without noise and rounding. */
  sampledDip: number;
  gapped: boolean;
  clipped: boolean;
};

export type Log = {
  plan: Plan;
  logger: LoggerKind;
  count: number;
  timeUs: Float64Array;
  record: Int32Array | null;
  volts: Float64Array;
  amps: Float64Array | null;
  rpm: Float64Array | null;
  request: Float64Array | null;
  control: Float64Array | null;
  tempC: Float64Array | null;
  cranks: LoggedCrank[];
};

export function drawLogger(random: Random, rateHz: number, { vehicle }: Plan): LoggerKind {
  return {
    rateHz,
    jitter: random.chance(0.3) ? random.between(0.05, 0.5) : 0,
    stepVolts: random.among([0.001, 0.002, 0.005, 0.01, 0.01, 0.02, 0.05, 0.1]),
    noiseVolts: 0.001 * 30 ** random.even() * (vehicle.systemVolts / 12) ** 0.5,
    cornerHz: random.chance(0.35) ? rateHz * random.between(0.4, 0.8) : Infinity,
    leastVolts: random.chance(0.03) ? random.between(0.55, 0.72) * vehicle.systemVolts : 0,
    logs: {
      amps: random.chance(0.4),
      rpm: random.chance(0.25),
      request: random.chance(0.4),
      control: random.chance(0.3),
      temp: random.chance(0.75),
    },
    triggered: random.chance(0.35),
  };
}

type Window = { from: number; to: number };

/** Samples a course; `random` decides jitter, noise, cuts and gaps. */
export function logOf(plan: Plan, course: Course, truth: readonly TrueCrank[], kind: LoggerKind, random: Random): Log {
  const needsRequest = plan.fault.startsWith('no response');
  const logger = {
    ...kind,
    logs: { ...kind.logs, request: kind.logs.request || needsRequest, control: kind.logs.control || needsRequest },
  };
  const windows = windowsOf(plan, truth, logger, random);
  const gap = drawGap(truth, random);
  const seconds: number[] = [];
  const record: number[] = [];
  const phase = random.even();
  const end = course.count * STEP - 2 * STEP;
  windows.forEach((window, index) => {
    for (let k = Math.ceil(window.from * logger.rateHz); k < Math.min(window.to, end) * logger.rateHz; k++) {
      const t = (k + phase + logger.jitter * (random.even() - 0.5)) / logger.rateHz;
      if (t < 0 || t >= end || (gap !== null && t >= gap.from && t < gap.to)) continue;
      seconds.push(t);
      record.push(index);
    }
  });
  const startUs = 1_600_000_000_000_000 + Math.floor(random.even() * 1.2e14);
  const clean = sampled(filtered(course, logger.cornerHz), seconds, delayOf(logger.cornerHz));
  const at = (t: number) => Math.min(course.count - 1, Math.max(0, Math.round(t / STEP)));
  const series = (on: boolean, value: (i: number) => number) =>
    on ? Float64Array.from(seconds, (t) => value(at(t))) : null;
  const { logs } = logger;
  return {
    plan,
    logger,
    count: seconds.length,
    timeUs: Float64Array.from(seconds, (t) => startUs + Math.round(t * 1e6)),
    record: logger.triggered ? Int32Array.from(record) : null,
    volts: clean.map((value) => digitised(value + logger.noiseVolts * random.normal(), logger)),
    amps: series(logs.amps, (i) => Math.round(course.amps[i]! + 1.5 * random.normal())),
    rpm: series(logs.rpm, (i) => (course.rpm[i]! < 40 ? 0 : Math.round(course.rpm[i]! * 4) / 4)),
    request: series(logs.request, (i) => course.request[i]!),
    control: series(logs.control, (i) => Math.round((course.controlVolts[i]! + 0.01 * random.normal()) * 50) / 50),
    tempC: series(logs.temp, () => Math.round(plan.tempC)),
    cranks: truth.map((crank) => seen(crank, { seconds, clean, windows, gap, logger, startUs })),
  };
}

function digitised(volts: number, { stepVolts, leastVolts }: LoggerKind): number {
  return Math.round(Math.round(Math.max(leastVolts, volts) / stepVolts) * stepVolts * 1e4) / 1e4;
}

/** Two poles at the corner; the course itself where there is no filter. */
function filtered({ volts, count }: Course, cornerHz: number): Float64Array {
  const share = 1 - Math.exp(-2 * Math.PI * cornerHz * STEP);
  if (share > 0.95) return volts;
  const smooth = new Float64Array(count);
  let [first, second] = [volts[0]!, volts[0]!];
  for (let i = 0; i < count; i++) {
    first += share * (volts[i]! - first);
    second += share * (first - second);
    smooth[i] = second;
  }
  return smooth;
}

/** Two equal poles delay by twice their time constant. */
function delayOf(cornerHz: number): number {
  return 2 / (2 * Math.PI * cornerHz);
}

function sampled(volts: Float64Array, seconds: readonly number[], delay: number): Float64Array {
  return Float64Array.from(seconds, (t) => {
    const steps = Math.min(volts.length - 2, (t + delay) / STEP);
    const i = Math.floor(steps);
    const share = steps - i;
    return volts[i]! + share * (volts[i + 1]! - volts[i]!);
  });
}

/** What is recorded: all of it, cut at either end now and then; or a stretch around each crank. */
function windowsOf(plan: Plan, truth: readonly TrueCrank[], { triggered }: LoggerKind, random: Random): Window[] {
  const cranks = truth.filter(({ pattern }) => pattern !== 'preheat');
  const [first, last] = [cranks[0], cranks.at(-1)];
  if (first === undefined || last === undefined) return [{ from: 0, to: plan.seconds }];
  if (triggered) {
    const before = random.among([0.05, 0.2, 0.5, 1, 2]);
    const after = random.among([0.5, 1, 3, 8]);
    const windows: Window[] = [];
    for (const { onset, release } of cranks) {
      const open = windows.at(-1);
      if (open !== undefined && onset - before <= open.to) open.to = release + after;
      else windows.push({ from: Math.max(0, onset - before), to: release + after });
    }
    return windows;
  }
  const inside = ({ onset, release }: TrueCrank) => random.between(onset + 0.02, release - 0.05);
  const cut = random.even();
  if (cut < 0.06 && first.release - first.onset > 0.4) return [{ from: inside(first), to: plan.seconds }];
  if (cut < 0.12 && last.release - last.onset > 0.4) return [{ from: 0, to: inside(last) }];
  return [{ from: 0, to: plan.seconds }];
}

function drawGap(truth: readonly TrueCrank[], random: Random): Window | null {
  const first = truth.find(({ pattern }) => pattern !== 'preheat');
  if (first === undefined || !random.chance(0.05)) return null;
  const from = random.between(first.onset - 0.6, first.release + 1);
  return { from, to: from + random.between(0.06, 0.9) };
}

type Recorded = {
  seconds: readonly number[];
  clean: Float64Array;
  windows: readonly Window[];
  gap: Window | null;
  logger: LoggerKind;
  startUs: number;
};

const MOTIONLESS = 0.12;

function seen(crank: TrueCrank, recorded: Recorded): LoggedCrank {
  const { seconds, clean, gap, logger, startUs } = recorded;
  const { onset, release } = crank;
  const gapped = gap !== null && gap.from < release && gap.to > onset - 0.02;
  const window = recorded.windows.find(({ from, to }) => from < release && to > onset);
  let dip = Infinity;
  for (let i = 0; i < seconds.length; i++)
    if (seconds[i]! >= onset && seconds[i]! <= Math.min(release, onset + MOTIONLESS)) dip = Math.min(dip, clean[i]!);
  return {
    ...crank,
    onsetUs: startUs + Math.round(onset * 1e6),
    view: viewOf(crank, { window, gap, gapped, sample: 1 / logger.rateHz }),
    restSeconds:
      window === undefined ? 0 : Math.min(onset - window.from, gap !== null && gap.to <= onset ? onset - gap.to : 99),
    sampledDip: dip === Infinity ? Number.NaN : dip,
    gapped,
    clipped: logger.leastVolts > 0 && crank.dipVolts < logger.leastVolts,
  };
}

type Cut = { window: Window | undefined; gap: Window | null; gapped: boolean; sample: number };

function viewOf({ onset, release, rollingTo, pattern }: TrueCrank, { window, gap, gapped, sample }: Cut): View {
  if (window === undefined) return 'optional';
  // Contact for a moment only, as of a solenoid that lets go at once: no crank that anyone would count or miss.
  if (release - onset < 0.12) return 'optional';
  const begun = window.from > onset;
  // A single sample before the onset shows no fall.
  if (!begun && onset - window.from < 2 * sample) return 'optional';
  const ended = window.to < release + 0.02;
  const cutOnset = gapped && gap!.from < onset + 0.05 && gap!.to > onset - 0.005;
  if (pattern === 'preheat') return begun || ended || gapped ? 'optional' : 'whole';
  if (begun && ended) return 'optional';
  const left = Math.min(window.to, release) - Math.max(window.from, onset);
  if (begun) return rollingTo - window.from >= 0.4 && window.to > release + 0.3 ? 'begun' : 'optional';
  if (ended) return left >= 0.4 ? 'ended' : 'optional';
  return cutOnset || (gapped && gap!.to - gap!.from > 0.6 * (release - onset)) ? 'optional' : 'whole';
}
