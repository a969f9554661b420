/**
 * What a vehicle's data bus says about starting, in the units of the crank's columns. Order is not stored anywhere.
 * Volts come from three places that must not be mixed: the bank, the key switch, the supply of a control unit.
 */
export const BUS_SIGNALS = [
  'engineRpm',
  /** SAE J1939 SPN 1675, its code as sent. */
  'starterMode',
  'batteryVolts',
  'keyswitchVolts',
  'moduleVolts',
  'coolantC',
  'ambientC',
] as const;
export type BusSignal = (typeof BUS_SIGNALS)[number];

/** The three places, the one nearest to the bank first. */
export const BUS_VOLTS = ['batteryVolts', 'keyswitchVolts', 'moduleVolts'] as const satisfies readonly BusSignal[];

/**
 * Readings of one unit's bus in file order, one row a reading: signals come at rates of their own. The arrays belong
 * to the reader and are filled anew after the sink returns.
 */
export type BusSignalBatch = {
  unit: string;
  position: string;
  count: number;
  /** Index in BUS_SIGNALS. */
  signal: Uint8Array;
  /** Integer microseconds since 1970 UTC. */
  timeUs: Float64Array;
  /** Never missing: a reading that says "not available" is no row. */
  value: Float64Array;
  /** 1-based line of the file. */
  line: Float64Array;
};
