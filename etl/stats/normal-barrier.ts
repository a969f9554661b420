/**
 * The two normal tails of which every first passage of a drifting path is made, added so that nothing overflows.
 *
 * For: `inverse-gaussian.ts` and `first-passage.ts`, whose F(t) = Φ(a) + e^c·Φ(−b) with c = (b² − a²)/2.
 * Since e^c·φ(b) = φ(a), the second term is φ(a)·M(b) with Mills' ratio M(x) = (1 − Φ(x))/φ(x). Valid for b > a. No unit.
 *
 * @example probabilityAtBarrier(0, 2) // ½ + φ(0)·M(2) = 0.6681020012231706
 */
import { LOG_SQRT_2_PI, logNormalCdf, millsRatio, normalCdf, normalDensity } from './normal.ts';

/** Below this Mills' ratio at b is past half of what it can hold, and the exponent is small: no need of it. */
const MILLS_LIMIT = -5;

/** log(e^c·Φ(−b)). */
function logReflected(a: number, b: number): number {
  if (b < MILLS_LIMIT) return ((b - a) * (b + a)) / 2 + logNormalCdf(-b);
  return -0.5 * a * a - LOG_SQRT_2_PI + Math.log(millsRatio(b));
}

/** F = Φ(a) + e^c·Φ(−b). */
export function probabilityAtBarrier(a: number, b: number): number {
  return Math.min(1, normalCdf(a) + Math.exp(logReflected(a, b)));
}

/** log(1 − F) = log(Φ(−a) − e^c·Φ(−b)); for a > 0 both are small multiples of φ(a), which is taken out first. */
export function logTailAtBarrier(a: number, b: number): number {
  if (a > 0) return Math.log(Math.max(0, millsRatio(a) - millsRatio(b)) * normalDensity(0)) - 0.5 * a * a;
  return logNormalCdf(-a) + Math.log1p(-Math.exp(logReflected(a, b) - logNormalCdf(-a)));
}

/** 1 − F, without the logarithm: 0 where it lies below the smallest number, some 38 spreads out. */
export function tailAtBarrier(a: number, b: number): number {
  if (a > 0) return Math.max(0, millsRatio(a) - millsRatio(b)) * normalDensity(a);
  const reflected = b < MILLS_LIMIT ? Math.exp(logReflected(a, b)) : normalDensity(a) * millsRatio(b);
  return Math.max(0, normalCdf(-a) - reflected);
}
