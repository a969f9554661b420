/**
 * The check digit of a vehicle identification number (ISO 3779; 49 CFR 565.15), position 9: letters by value, times
 * weight, sum modulo 11, 10 is written X. Compulsory in North America only: elsewhere a mismatch says nothing.
 *
 * Throws RangeError for a text that is no VIN: 17 characters, capital letters without I, O, Q, and digits.
 *
 * @example vinCheckDigit('1M8GDM9AXKP042788') // 'X': sum 351 = 31 · 11 + 10
 */
const VALUES: Record<string, number> = Object.fromEntries(
  ['A1 B2 C3 D4 E5 F6 G7 H8 J1 K2 L3 M4 N5 P7 R9 S2 T3 U4 V5 W6 X7 Y8 Z9']
    .join(' ')
    .split(' ')
    .map((pair) => [pair[0]!, Number(pair[1])]),
);
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2] as const;
const VIN = /^[A-HJ-NPR-Z0-9]{17}$/;

export function vinWeightedSum(vin: string): number {
  if (!VIN.test(vin))
    throw new RangeError(`VIN requires 17 capital letters and digits without I, O, Q, got ${vin} (vin)`);
  return WEIGHTS.reduce<number>((sum, weight, index) => sum + weight * (VALUES[vin[index]!] ?? Number(vin[index])), 0);
}

export function vinCheckDigit(vin: string): string {
  const rest = vinWeightedSum(vin) % 11;
  return rest === 10 ? 'X' : String(rest);
}

/** What a person should look at; null where the VIN is well-formed and its check digit fits. */
export function vinNote(vin: string): string | null {
  if (!VIN.test(vin)) return `vin ${vin} is no VIN: 17 capital letters and digits without I, O, Q`;
  const digit = vinCheckDigit(vin);
  return vin[8] === digit
    ? null
    : `vin ${vin} has ${vin[8]} where the check digit would be ${digit}: fine outside North America`;
}
