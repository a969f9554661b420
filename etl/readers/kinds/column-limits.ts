/**
 * What a measured value can be. A value outside is a fault of the logger or of the file, not of the vehicle.
 * Bounds are wide on purpose: common practice where nothing else is said.
 */
export type Limit = { least: number; most: number; unit: string };

export const LIMITS = {
  /** A 24 V system with a load dump reaches 58 V (ISO 16750-2); a reversed probe reads a little below 0. */
  volts: { least: -5, most: 65, unit: 'V' },
  /** What a gateway sums up is a bank under load or charge: never below 0. */
  crankVolts: { least: 0, most: 65, unit: 'V' },
  /** Locked rotor of a heavy 24 V starter draws up to about 3,000 A. */
  amps: { least: -6_000, most: 6_000, unit: 'A' },
  ampsPeak: { least: 0, most: 6_000, unit: 'A' },
  tempC: { least: -70, most: 150, unit: '°C' },
  coolantC: { least: -70, most: 200, unit: '°C' },
  rpm: { least: 0, most: 20_000, unit: 'rpm' },
  flag: { least: 0, most: 1, unit: '(0 or 1)' },
  seconds: { least: 0, most: 3_600, unit: 's' },
} as const satisfies Record<string, Limit>;

/** No logger of cranking voltage is older; a clock that has lost its battery says 1970 or 1980. */
export const EARLIEST_US = Date.UTC(1990, 0, 1) * 1000;
/** A clock may be ahead by its time zone, not by more. */
export const AHEAD_US = 86_400e6;
