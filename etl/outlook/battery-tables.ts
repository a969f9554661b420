/**
 * What handbook tables say of a battery's readings, for reasons in words.
 *
 * `chargeBand`: state of charge from the rested voltage (TM 5-3805-262-20 p. 5-142, flooded, 12 V; a 24 V bank is two in
 * series). Published tables differ by 0.1 to 0.15 V and a meter by 1 %, so it is a band of ±0.1 V, never a point.
 * `loadTestOhms`: the resistance at which a battery just passes the load test: half its cold cranking amps for 15 s at
 * 20 °C must leave 9.6 V of 12.6 (the same table in four vehicle manuals), so R = 3.0 V / (CCA / 2) = 6.0 / CCA.
 *
 * @example chargeBand(12.2, 12) // { low: 0.375, high: 0.625 }
 * @example loadTestOhms(600, 12) // 0.01
 */
import { LOAD_TEST_VOLTS, OPEN_CIRCUIT_VOLTS } from '../model/bench-tests.ts';

const BAND_VOLTS = 0.1;

export type ChargeBand = { low: number; high: number };

/** Shares of full charge between which the rested bank lies. */
export function chargeBand(restVolts: number, systemVolts: 12 | 24): ChargeBand {
  const each = restVolts / (systemVolts / 12);
  return { low: chargeAt(each - BAND_VOLTS), high: chargeAt(each + BAND_VOLTS) };
}

/** Linear between the rows of the table; 0 below it, 1 above it. */
function chargeAt(volts: number): number {
  const upper = OPEN_CIRCUIT_VOLTS.findLastIndex((row) => row.volts >= volts);
  if (upper < 0) return 1;
  const above = OPEN_CIRCUIT_VOLTS[upper]!;
  const below = OPEN_CIRCUIT_VOLTS[upper + 1];
  if (below === undefined) return 0;
  return below.charge + ((volts - below.volts) / (above.volts - below.volts)) * (above.charge - below.charge);
}

/** Ohm of the whole bank; `ccaA` is the bank's. */
export function loadTestOhms(ccaA: number, systemVolts: 12 | 24): number {
  const fall = OPEN_CIRCUIT_VOLTS[0]!.volts - LOAD_TEST_VOLTS[0]!.volts;
  return ((systemVolts / 12) * fall) / (ccaA / 2);
}
