/** What the cold does to a battery and to an engine, as factors of what they are when warm; for an unknown temperature a mild day. */
import { SUSPECT_THRESHOLDS as S } from './suspect-thresholds.ts';

/** Resistance of a battery over that at 25 °C. */
export function batteryColdTimes(tempC: number): number {
  return Number.isNaN(tempC) ? S.unknownColdTimes : 2 ** ((S.warmC - tempC) / S.doublesPerC);
}

/** Torque of an engine over that of the warm one. */
export function frictionTimes(tempC: number): number {
  return Number.isNaN(tempC) ? 1 : 1 + S.frictionPerC * Math.max(0, S.frictionFromC - tempC);
}
