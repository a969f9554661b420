/**
 * Uno's C-index up to a time: as Harrell's, each failure weighed by the inverse square of its chance of having been
 * watched so long, so that the answer does not depend on the censoring.
 *
 * For: discrimination within a horizon. Only failures before `until` count (strictly).
 * C = Σ δᵢ·G(Tᵢ−)⁻²·1(Tᵢ < until)·[1(sᵢ > sⱼ) + ½·1(sᵢ = sⱼ)] / Σ the same without the bracket, over Tⱼ > Tᵢ.
 * Uno, Cai, Pencina, D’Agostino & Wei 2011. Throws StatisticsRefusal where no pair can be used. O(n log n).
 *
 * @example unoC(tenLives, 5) // 0.9502762431 for the ten lives of tests/reference/concordance.test.ts
 */
import { stillWatched } from './censoring-weights.ts';
import { concordantPairs, type Scored } from './concordant-pairs.ts';
import { StatisticsRefusal } from './refusal.ts';

export function unoC(rows: Scored, until: number): number {
  const watched = stillWatched(rows);
  const { usable, right } = concordantPairs(rows, (t) => (t < until ? watched.before(t) ** -2 : 0));
  if (!(usable > 0)) throw new StatisticsRefusal('unoC', 'a failure before the time, outlived by another', 0, 'rows');
  return right / usable;
}
