/**
 * Interval score: how wide a forecast interval is, and how far beside it the truth lies.
 *
 * For: comparing windows; smaller is better, a wide window that is always right does not win. Unit of the values.
 * (high − low) + 2/α·(low − y) below it + 2/α·(y − high) above it, for a window meant to hold a share 1 − α
 * (Gneiting & Raftery 2007, equation 43). Throws StatisticsRefusal for α outside 0 to 1 or a window that ends before it begins.
 *
 * @example intervalScore({ low: 5, high: 9 }, 10, 0.2) // 14
 */
import { StatisticsRefusal } from './refusal.ts';

export function intervalScore({ low, high }: { low: number; high: number }, truth: number, alpha: number): number {
  if (!(alpha > 0 && alpha < 1))
    throw new StatisticsRefusal('intervalScore', 'an alpha between 0 and 1', alpha, 'alpha');
  if (!(high >= low)) throw new StatisticsRefusal('intervalScore', 'low ≤ high', `${low} to ${high}`, 'window');
  return high - low + (2 / alpha) * (Math.max(0, low - truth) + Math.max(0, truth - high));
}
