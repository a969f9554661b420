import type { BasisWord, ForecastComponent } from './words.ts';

/** Days ahead at which a stored survival curve is given: weekly for a year, then every four weeks to five years. */
export const SURVIVAL_DAYS: readonly number[] = [
  ...Array.from({ length: 53 }, (_, week) => week * 7),
  ...Array.from({ length: 53 }, (_, step) => 364 + (step + 1) * 28),
  1826,
].filter((day, index, all) => day <= 1826 && all.indexOf(day) === index);

/** Survival forecast of one component of one engine, given that it works on the as-of day. */
export type Outlook = {
  unit: string;
  position: string;
  component: ForecastComponent;
  ageDays: number | null;
  pFail30d: number | null;
  pFail60d: number | null;
  pFail90d: number | null;
  /** Dates at which the conditional failure probability reaches 10, 50, 90 %; null past as-of + 5 years. */
  windowEarlyOn: string | null;
  windowMidOn: string | null;
  windowLateOn: string | null;
  basis: readonly BasisWord[];
  /** Up to three reasons in words with numbers, strongest first; or why nothing can be said. */
  evidence: readonly string[];
  /** S(t) at SURVIVAL_DAYS; null where basis is none. */
  survival: Float64Array | null;
  /** Mean service life in days that the life model expects; what a day of life is worth is priced by it. */
  meanLifeDays: number | null;
};

/** Probability of failure within `days`, read off the curve by linear interpolation of log S. 0 ≤ days ≤ 1826. */
export function failureProbability(survival: Float64Array, days: number): number {
  const last = SURVIVAL_DAYS.length - 1;
  if (days <= 0) return 0;
  let right = 1;
  while (right < last && SURVIVAL_DAYS[right]! < days) right++;
  const from = SURVIVAL_DAYS[right - 1]!;
  const share = Math.min(1, (days - from) / (SURVIVAL_DAYS[right]! - from));
  const a = Math.log(Math.max(survival[right - 1]!, 1e-300));
  const b = Math.log(Math.max(survival[right]!, 1e-300));
  return 1 - Math.exp(a + share * (b - a));
}
