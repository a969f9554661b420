/**
 * The cranking circuit as the generator sees it: battery, cables, starter motor, engine. Volts at the battery's
 * terminals, amperes, ohms, rpm of the crankshaft.
 *
 * Stalled motor: I₀ = V_oc / (R_b + R_c + R_m), terminal volts V = V_oc − I₀ R_b.
 * Example: 12.6 V, 5 + 1 + 4.5 mΩ → 1200 A, 6.6 V.
 *
 * Turning: the motor's back-EMF is kE · n; the engine asks for the current I = I_d (a + b(T) n / n_warm), a for
 * compression and dry friction, b for the oil. Both lines meet at
 * n = (V_oc − V_br − I_d a R) / (kE + I_d b R / n_warm).
 * Valid from about −30 °C to a hot engine; below 0 rpm the engine does not turn.
 */
export type Circuit = { openVolts: number; batteryOhms: number; cableOhms: number; motorOhms: number };
export type Engine = { dragAmps: number; warmRpm: number; backEmfVoltsPerRpm: number; brushVolts: number };

export function stalledCrank(circuit: Circuit): { amps: number; volts: number } {
  const amps = circuit.openVolts / (circuit.batteryOhms + circuit.cableOhms + circuit.motorOhms);
  return { amps, volts: circuit.openVolts - amps * circuit.batteryOhms };
}

export function turningCrank(
  circuit: Circuit,
  engine: Engine,
  oilC: number,
): { rpm: number; amps: number; volts: number } {
  const ohms = circuit.batteryOhms + circuit.cableOhms + circuit.motorOhms;
  const oilAmps = (engine.dragAmps * oilShare(oilC)) / engine.warmRpm;
  const dryAmps = engine.dragAmps * DRY_SHARE;
  const headroom = circuit.openVolts - engine.brushVolts - dryAmps * ohms;
  const rpm = Math.max(0, headroom / (engine.backEmfVoltsPerRpm + oilAmps * ohms));
  const amps = rpm > 0 ? dryAmps + oilAmps * rpm : (circuit.openVolts - engine.brushVolts) / ohms;
  return { rpm, amps, volts: circuit.openVolts - amps * circuit.batteryOhms };
}

/** Part of the warm drag that does not depend on the oil; common practice puts compression at half to two thirds. */
const DRY_SHARE = 0.6;

/**
 * The oil's part of the drag at the warm speed, so that with the dry part the power required runs
 * 100 % at 27 °C, 155 % at 0 °C, 210 % at −18 °C, 350 % at −30 °C (training text on battery power in the cold).
 */
const OIL_SHARE: readonly (readonly [tempC: number, share: number])[] = [
  [-30, 2.9],
  [-18, 1.5],
  [0, 0.95],
  [27, 0.4],
  [80, 0.2], // from memory: hot oil
];

export function oilShare(oilC: number): number {
  return interpolate(OIL_SHARE, oilC);
}

/** Rested volts of one 12 V battery by state of charge, flooded: TM 5-3805-262-20 p. 5-142 (100 % there: 12.6 or more). */
const FLOODED_VOLTS = [
  [0, 11.7],
  [0.25, 12],
  [0.5, 12.2],
  [0.75, 12.4],
  [1, 12.65],
] as const;
/** The same, AGM: from memory. */
const AGM_VOLTS = [
  [0, 11.8],
  [0.25, 12],
  [0.5, 12.25],
  [0.75, 12.6],
  [1, 12.85],
] as const;

/** Open-circuit volts of a bank; the tables are for 25 °C, a degree changes 1.5 mV (1 to 2 mV, trade texts). */
export function openCircuitVolts(bank: { charge: number; tempC: number; agm: boolean; systemVolts: number }): number {
  const volts = interpolate(bank.agm ? AGM_VOLTS : FLOODED_VOLTS, bank.charge);
  return (bank.systemVolts / 12) * (volts + 0.0015 * (bank.tempC - 25));
}

/**
 * Resistance of a bank, ohm. New and warm: half the load test's pass limit of 6.0/CCA a 12 V battery; it doubles from
 * +25 to −18 °C (from memory) and rises as charge is lost.
 */
export function bankOhms(bank: {
  ccaA: number;
  tempC: number;
  charge: number;
  ageing: number;
  systemVolts: number;
}): number {
  const cold = 2 ** ((25 - bank.tempC) / 43);
  return (bank.systemVolts / 12) * (3 / bank.ccaA) * bank.ageing * (1 + 0.9 * (1 - bank.charge) ** 1.5) * cold;
}

/** Constants of an engine from its class, so that a new set turns it at `warmRpm` with `dragShare` of the stall current. */
export function engineOf(design: { circuit: Circuit; warmRpm: number; dragShare: number }): Engine {
  const { circuit } = design;
  const ohms = circuit.batteryOhms + circuit.cableOhms + circuit.motorOhms;
  const dragAmps = design.dragShare * stalledCrank(circuit).amps;
  const brushVolts = circuit.openVolts * 0.08; // from memory: about 1 V of 12 over two brush pairs
  const backEmfVoltsPerRpm =
    (circuit.openVolts - brushVolts - dragAmps * (DRY_SHARE + oilShare(25)) * ohms) / design.warmRpm;
  return { dragAmps, warmRpm: design.warmRpm, backEmfVoltsPerRpm, brushVolts };
}

function interpolate(points: readonly (readonly [number, number])[], x: number): number {
  let left = points[0]!;
  for (const right of points) {
    if (x <= right[0]) {
      if (right === left) return left[1];
      return left[1] + ((right[1] - left[1]) * (x - left[0])) / (right[0] - left[0]);
    }
    left = right;
  }
  return left[1];
}
