/**
 * Harrell's C-index: of all pairs of lives whose order is known, the share that the score had in the right order.
 *
 * For: how well a score tells which fails first. 1 always right, ½ no better than a coin. Depends on how long the lives
 * were watched; `unoC` does less. Valid with right censoring. Harrell, Califf, Pryor, Lee & Rosati 1982.
 * Throws StatisticsRefusal where no pair can be used. O(n log n).
 *
 * @example // seven lives, times 1 to 7, the second and fifth censored: 11 right, 2 wrong, 1 tied
 * harrellC({ time, event, score: Float64Array.of(7, 4, 6, 3, 3, 2, 5) }) // 0.8214285714
 */
import { concordantPairs, type Scored } from './concordant-pairs.ts';
import { StatisticsRefusal } from './refusal.ts';

export function harrellC(rows: Scored): number {
  const { usable, right } = concordantPairs(rows, () => 1);
  if (!(usable > 0)) throw new StatisticsRefusal('harrellC', 'a pair whose order is known', 0, 'rows');
  return right / usable;
}
