/** A battery's resistance doubles from +25 to −18 °C (from memory; the trade's rule), and the sag ratio with it. */
const LOG_SAG_PER_C = -Math.LN2 / 43;
const REFERENCE_C = 15;

/** Log sag ratio as it would be at 15 °C, by the battery's own rule; as it is where no temperature was logged. */
export function sagAtReference(logSag: number, tempC: number): number {
  return Number.isNaN(tempC) ? logSag : logSag - LOG_SAG_PER_C * (tempC - REFERENCE_C);
}
