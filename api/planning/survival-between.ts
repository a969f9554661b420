import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';

/**
 * What a stored survival curve says about a stretch of days, given that the component works on the first of them:
 * the probability that it fails within the stretch and the service time expected of it.
 *
 * The curve is given at SURVIVAL_DAYS; between two of them log S is straight, that is, the hazard is constant. So both
 * answers are exact for the curve as stored: F = 1 − S(to)/S(from), and E = ∫ S dt / S(from), which for a constant
 * hazard h over w days is (1 − e^(−h·w))/h.
 *
 * Valid for 0 ≤ fromDay ≤ toDay; past the curve's end (five years) its last hazard is carried on.
 *
 * @example exponential life with a mean of 100 days: survivalBetween(S, 0, 50)
 *          // { pFail: 1 − e^(−0.5) = 0.3935, serviceDays: 100 × 0.3935 = 39.35 }
 */
export type SurvivalStretch = { pFail: number; serviceDays: number };

export function survivalBetween(survival: Float64Array, fromDay: number, toDay: number): SurvivalStretch {
  let cumulativeHazard = 0;
  let serviceDays = 0;
  for (let step = 0; step < HAZARD_STEPS && SURVIVAL_DAYS[step]! < toDay; step++) {
    const end = step === HAZARD_STEPS - 1 ? toDay : Math.min(SURVIVAL_DAYS[step + 1]!, toDay);
    const days = end - Math.max(SURVIVAL_DAYS[step]!, fromDay);
    if (days <= 0) continue;
    const fallen = hazardPerDay(survival, step) * days;
    // expm1 keeps its digits where the hazard is tiny; at zero the stretch is simply lived through.
    serviceDays += Math.exp(-cumulativeHazard) * (fallen > 0 ? (-Math.expm1(-fallen) / fallen) * days : days);
    cumulativeHazard += fallen;
  }
  return { pFail: -Math.expm1(-cumulativeHazard), serviceDays };
}

/** The curve as steps of constant hazard: step i runs from SURVIVAL_DAYS[i] to the next of them. */
export const HAZARD_STEPS = SURVIVAL_DAYS.length - 1;

export function hazardPerDay(survival: Float64Array, step: number): number {
  const fallen = logOf(survival[step]!) - logOf(survival[step + 1]!);
  return fallen / (SURVIVAL_DAYS[step + 1]! - SURVIVAL_DAYS[step]!);
}

/** A floor stands for zero under the logarithm, as in `failureProbability`. */
const logOf = (value: number) => Math.log(Math.max(value, 1e-300));
