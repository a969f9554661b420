/**
 * A start as an electrical circuit, to make waveforms whose truth is known. It shares nothing with the program: the
 * program reads voltages by shape, this integrates a battery, cables, a series of resistances, a motor with back-EMF, an
 * engine with inertia and compressions, step by step.
 *
 *     I' = ((V_oc − k·ω)/(R_b + R_c + R_m) − I)/τ_L      J·ω' = k·I − drag − compression(θ)      V = V_oc − R_b·I
 *
 * Defaults are a 12 V car in good order; values in the range that workshop manuals give.
 */
export type StartPlan = {
  systemVolts: 12 | 24;
  cylinders: number;
  /** Mean cranking speed that the drag is set for, rpm. */
  rpm: number;
  openVolts: number;
  batteryOhms: number;
  cableOhms: number;
  motorOhms: number;
  /** Time from onset until the engine fires; if not before `crankSeconds`, it does not. */
  fireSeconds: number;
  crankSeconds: number;
  spinUpSeconds: number;
  /** Compression torque over mean torque. */
  compression: number;
  solenoidSeconds: number;
  solenoidAmps: number;
  /** Contact lost at these times after onset, for so long. */
  lost: readonly { at: number; seconds: number }[];
  /** Loads that are switched before onset (negative times): amps through the battery's resistance. */
  loads: readonly { from: number; to: number; amps: number }[];
  beforeSeconds: number;
  afterSeconds: number;
  /** Sampling. */
  rateHz: number;
  jitter: number;
  noiseVolts: number;
  stepVolts: number;
  seed: number;
};

export const CAR: StartPlan = {
  systemVolts: 12,
  cylinders: 4,
  rpm: 200,
  openVolts: 12.6,
  batteryOhms: 0.0055,
  cableOhms: 0.001,
  motorOhms: 0.0055,
  fireSeconds: 1.2,
  crankSeconds: 1.5,
  spinUpSeconds: 0.12,
  compression: 0.8,
  solenoidSeconds: 0.03,
  solenoidAmps: 40,
  lost: [],
  loads: [{ from: -60, to: 60, amps: 8 }],
  beforeSeconds: 2,
  afterSeconds: 3,
  rateHz: 200,
  jitter: 0,
  noiseVolts: 0.01,
  stepVolts: 0.01,
  seed: 1,
};

export type SimulatedStart = {
  plan: StartPlan;
  /** Seconds from onset, and the volts and amps a logger writes. */
  seconds: Float64Array;
  volts: Float64Array;
  amps: Float64Array;
  truth: {
    restVolts: number;
    dipVolts: number;
    crankVolts: number;
    crankRpm: number;
    crankSeconds: number;
    rollingSeconds: number;
  };
};

const STEP = 0.00025;
const NO_LOAD_AMPS = 70;

/** Park–Miller: a stream of its own, so that nothing is shared with the program's random numbers. */
export function uniforms(seed: number): () => number {
  let state = (seed * 48_271 + 11) % 2_147_483_647;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

function normals(seed: number): () => number {
  const next = uniforms(seed);
  return () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}

/** Volts, amps and speed of the circuit at every STEP from −before to the end. */
function integrate(plan: StartPlan) {
  const steps = Math.ceil((plan.beforeSeconds + plan.crankSeconds + plan.afterSeconds) / STEP);
  const volts = new Float64Array(steps);
  const amps = new Float64Array(steps);
  const rpm = new Float64Array(steps);
  const strokes = new Float64Array(steps);
  const { openVolts, batteryOhms, cableOhms, motorOhms } = plan;
  const ohms = batteryOhms + cableOhms + motorOhms;
  const omegaRolling = (plan.rpm * 2 * Math.PI) / 60;
  const k = (0.6 * openVolts) / omegaRolling;
  const drag = k * 0.4 * (openVolts / ohms);
  const inertia = (plan.spinUpSeconds * k * k) / ohms;
  const fires = plan.fireSeconds < plan.crankSeconds;
  let motorAmps = 0;
  let omega = 0;
  // It stands where it was thrown back to: between two compressions.
  let angle = (-0.8 * 2) / plan.cylinders;
  let charge = 0;
  for (let i = 0; i < steps; i++) {
    const t = -plan.beforeSeconds + i * STEP;
    const held = t >= 0 && t < plan.crankSeconds;
    const contact = held && !plan.lost.some(({ at, seconds }) => t >= at && t < at + seconds);
    const overrun = k * omega > openVolts - NO_LOAD_AMPS * ohms;
    const wanted = contact ? (overrun ? NO_LOAD_AMPS : (openVolts - k * omega) / ohms) : 0;
    motorAmps += ((wanted - motorAmps) * STEP) / 0.0015;
    const firing = fires && t >= plan.fireSeconds;
    const beat = plan.compression * Math.sin((angle * plan.cylinders) / 2);
    const torque = k * motorAmps - (omega > 0 || motorAmps > 50 ? drag * Math.min(1, omega / 2) * (1 + beat) : 0);
    const push = firing && omega < 75 ? inertia * 90 : 0;
    const stop = !held && !firing ? drag : 0;
    omega = Math.max(0, omega + ((torque + push - stop) * STEP) / inertia);
    if (firing && omega > 75) omega = 75;
    angle += omega * STEP;
    const solenoid =
      t >= -plan.solenoidSeconds && held
        ? plan.solenoidAmps * (t < 0 ? 1 : 0.25)
        : t >= -plan.solenoidSeconds && t < 0
          ? plan.solenoidAmps
          : 0;
    const load = plan.loads.reduce((sum, { from, to, amps: each }) => sum + (t >= from && t < to ? each : 0), 0);
    amps[i] = motorAmps + solenoid + load;
    const charging = fires && t > plan.crankSeconds + 0.8;
    charge += (((charging ? plan.systemVolts * (14.2 / 12) - openVolts : 0) - charge) * STEP) / 0.15;
    volts[i] = openVolts - batteryOhms * amps[i]! + charge;
    rpm[i] = (omega * 60) / (2 * Math.PI);
    strokes[i] = Math.floor((angle * plan.cylinders) / (4 * Math.PI) + 0.5);
  }
  return { volts, amps, rpm, strokes, steps };
}

/** Simulates one start and samples it as a logger would. */
export function simulateStart(changes: Partial<StartPlan>): SimulatedStart {
  const plan = { ...CAR, ...changes };
  const { volts, amps, rpm, strokes, steps } = integrate(plan);
  const at = (t: number) => Math.max(0, Math.min(steps - 1, Math.round((t + plan.beforeSeconds) / STEP)));
  const noise = normals(plan.seed);
  const even = uniforms(plan.seed + 77);
  const total = plan.beforeSeconds + plan.crankSeconds + plan.afterSeconds;
  const count = Math.floor(total * plan.rateHz);
  const phase = even();
  const seconds = Float64Array.from(
    { length: count },
    (_, i) => -plan.beforeSeconds + (i + phase + plan.jitter * (even() - 0.5)) / plan.rateHz,
  );
  const sampled = seconds.map((t) => {
    const value = volts[at(t)]! + plan.noiseVolts * noise();
    return Number((Math.round(value / plan.stepVolts) * plan.stepVolts).toFixed(4));
  });
  return {
    plan,
    seconds,
    volts: sampled,
    amps: seconds.map((t) => Math.round(amps[at(t)]!)),
    truth: truthOf(plan, { volts, rpm, strokes, at }),
  };
}

type Fine = { volts: Float64Array; rpm: Float64Array; strokes: Float64Array; at: (t: number) => number };

function truthOf(plan: StartPlan, { volts, rpm, strokes, at }: Fine): SimulatedStart['truth'] {
  let dip = at(0);
  for (let i = dip; i < at(0.1); i++) if (volts[i]! < volts[dip]!) dip = i;
  // The first cylinder to pass its top dead centre, where its torque has fallen to the mean.
  let from = dip;
  while (from < at(0.3) && strokes[from + 1] === strokes[dip]) from++;
  const to = at(Math.min(plan.fireSeconds, plan.crankSeconds));
  const mean = (series: Float64Array) => series.subarray(from, to).reduce((sum, value) => sum + value, 0) / (to - from);
  return {
    restVolts: volts[at(-plan.solenoidSeconds - 0.05)]!,
    dipVolts: volts[dip]!,
    crankVolts: mean(volts),
    crankRpm: mean(rpm),
    crankSeconds: plan.crankSeconds,
    rollingSeconds: (to - from) * STEP,
  };
}
