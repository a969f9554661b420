/**
 * Slopes shrunk towards their class (partial pooling by moments): a slope that is known badly says what its class says.
 * Between-engine variance τ² = max(0, var(slopes) − mean(error²)); each slope becomes
 * (slope/e² + m/τ²) / (1/e² + 1/τ²), its error 1/√(1/e² + 1/τ²). Source: Efron & Morris 1975, empirical Bayes.
 * Shapes: slopes per year with standard errors. Fewer than `LEAST` slopes are left as they are.
 *
 * @example shrinker([{ slope: 1, error: 1 }, …])({ slope: 9, error: 3 }) // drawn towards the mean of the class
 */
export type Slope = { slope: number; error: number };
export type SlopePrior = { mean: number; sd: number } | null;

const LEAST = 5; // common practice: a variance from fewer is a guess

export function slopePrior(slopes: readonly Slope[]): SlopePrior {
  const usable = slopes.filter(({ error }) => Number.isFinite(error) && error > 0);
  if (usable.length < LEAST) return null;
  const weight = usable.reduce((sum, { error }) => sum + 1 / error ** 2, 0);
  const mean = usable.reduce((sum, { slope, error }) => sum + slope / error ** 2, 0) / weight;
  const spread = usable.reduce((sum, { slope }) => sum + (slope - mean) ** 2, 0) / (usable.length - 1);
  const noise = usable.reduce((sum, { error }) => sum + error ** 2, 0) / usable.length;
  const least = 0.05 * Math.sqrt(noise);
  return { mean, sd: Math.max(least, Math.sqrt(Math.max(0, spread - noise))) };
}

export function shrunk({ slope, error }: Slope, prior: SlopePrior): Slope {
  if (prior === null || !(error > 0)) return { slope, error };
  if (!Number.isFinite(error)) return { slope: prior.mean, error: prior.sd };
  const own = 1 / error ** 2;
  const shared = 1 / prior.sd ** 2;
  return { slope: (own * slope + shared * prior.mean) / (own + shared), error: 1 / Math.sqrt(own + shared) };
}
