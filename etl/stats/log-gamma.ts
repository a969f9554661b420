/**
 * Logarithm of the gamma function.
 *
 * For: the mean of a Weibull life. Valid for x > 0; relative error of Γ about 1e-14. Plain number, no unit.
 * Formula: Lanczos' approximation with g = 7 and nine terms (coefficients by P. Godfrey).
 * Throws StatisticsRefusal for x ≤ 0.
 *
 * @example Math.exp(logGamma(5)) // 24
 */
import { StatisticsRefusal } from './refusal.ts';

const LANCZOS_G = 7;
const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
  -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

export function logGamma(x: number): number {
  if (!(x > 0)) throw new StatisticsRefusal('logGamma', 'a number above 0', x, 'x');
  // Below ½ the series loses digits: Γ(x) = Γ(x + 1)/x.
  if (x < 0.5) return logGamma(x + 1) - Math.log(x);
  let sum = LANCZOS[0]!;
  for (let i = 1; i < LANCZOS.length; i++) sum += LANCZOS[i]! / (x - 1 + i);
  const base = x - 0.5 + LANCZOS_G;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(base) - base + Math.log(sum);
}
