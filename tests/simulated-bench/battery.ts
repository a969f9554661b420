/**
 * Lead-acid bank: open-circuit voltage by state of charge and temperature, ohmic resistance, a fast and a slow
 * polarisation. Resistance 3/CCA at 25 °C, doubling towards −18 °C; OCV 11.7 V (empty) to 12.65 V (full), AGM 0.2 V more.
 */
export type BatteryState = {
  systemVolts: 12 | 24;
  ccaA: number;
  agm: boolean;
  /** 0 to 1. */
  charge: number;
  tempC: number;
  /** Resistance over that of a new one. */
  wear: number;
  /** Of a battery charged a short while ago, V for 12 V. */
  surfaceVolts: number;
};

/** How much of the whole resistance is felt at once, within tenths of a second, within many seconds. */
const SHARES = { atOnce: 0.82, fast: 0.18, slow: 0.3 } as const;
const CHARGING_OHMS = 0.05;

export function batteryOhms({ systemVolts, ccaA, tempC, wear }: BatteryState): number {
  return ((systemVolts / 12) * wear * 3 * 2 ** ((25 - tempC) / 43)) / ccaA;
}

export function openVolts({ systemVolts, agm, charge, tempC, surfaceVolts }: BatteryState): number {
  const top = agm ? 1.13 : 0.95;
  const rested = 11.7 + top * charge - 0.05 * (1 - charge) ** 4 + 0.0015 * (tempC - 25);
  return (systemVolts / 12) * (rested + surfaceVolts);
}

export class Battery {
  readonly open: number;
  readonly ohms: number;
  /** Polarisations, V. */
  fast = 0;
  slow = 0;
  readonly #fastTau: number;
  readonly #slowTau: number;
  readonly #system: number;

  constructor(state: BatteryState, taus: { fast: number; slow: number }) {
    this.open = openVolts(state);
    this.ohms = batteryOhms(state) * SHARES.atOnce;
    this.#fastTau = taus.fast;
    this.#slowTau = taus.slow;
    this.#system = state.systemVolts / 12;
  }

  /** Voltage that stands behind the ohmic resistance. */
  get inner(): number {
    return this.open - this.fast - this.slow;
  }

  step(amps: number, seconds: number): void {
    const whole = this.ohms / SHARES.atOnce;
    const charging = amps < 0;
    const fastOhms = charging ? CHARGING_OHMS * this.#system : SHARES.fast * whole;
    this.fast += ((amps * fastOhms - this.fast) * seconds) / (charging ? 2 * this.#fastTau : this.#fastTau);
    this.slow += ((Math.max(amps, -20) * SHARES.slow * whole - this.slow) * seconds) / this.#slowTau;
  }
}
