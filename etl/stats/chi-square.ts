/**
 * Upper tail of the chi-square distribution: the chance of a value at least so large.
 *
 * For: whether bins that should hold equal shares do. Valid for x ≥ 0 and degrees of freedom over 0; about 1e-12 relative.
 * P = Q(df/2, x/2), the regularised incomplete gamma function: its power series below df/2 + 1, Lentz's continued
 * fraction above (Abramowitz & Stegun 6.5.29, 6.5.31). Throws StatisticsRefusal outside the domain.
 *
 * @example chiSquareTail(3.4208, 9) // 0.9453
 */
import { logGamma } from './log-gamma.ts';
import { StatisticsRefusal } from './refusal.ts';

const ENOUGH = 1e-15;
const MOST_TERMS = 10_000; // common practice: some √(df) terms are needed

export function chiSquareTail(x: number, degrees: number): number {
  if (!(x >= 0)) throw new StatisticsRefusal('chiSquareTail', 'a value of at least 0', x, 'x');
  if (!(degrees > 0)) throw new StatisticsRefusal('chiSquareTail', 'degrees of freedom over 0', degrees, 'degrees');
  const [a, y] = [degrees / 2, x / 2];
  if (y === 0) return 1;
  const front = Math.exp(a * Math.log(y) - y - logGamma(a));
  return y < a + 1 ? 1 - (front * series(a, y)) / a : front * fraction(a, y);
}

function series(a: number, y: number): number {
  let [term, sum] = [1, 1];
  for (let n = 1; n < MOST_TERMS && term > sum * ENOUGH; n++) {
    term *= y / (a + n);
    sum += term;
  }
  return sum;
}

function fraction(a: number, y: number): number {
  let b = y + 1 - a;
  let c = 1 / 1e-300;
  let d = 1 / b;
  let value = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const step = -n * (n - a);
    b += 2;
    d = 1 / (step * d + b);
    c = b + step / c;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < ENOUGH) break;
  }
  return value;
}
