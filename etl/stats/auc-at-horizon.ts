/**
 * Area under the ROC curve at a horizon: the chance that a life which fails by then had a higher score than one which
 * outlives it (cumulative cases, dynamic controls), censoring weighed out.
 *
 * For: ranking a fleet for the next so many days. Failures up to the horizon weigh 1/G(T−), those that outlived it
 * equally; equal scores count half. Hung & Chiang 2010; Uno, Cai, Tian & Wei 2007.
 * Throws StatisticsRefusal where nobody failed by the horizon or nobody outlived it. O(n log n).
 *
 * @example aucAtHorizon(tenLives, 5) // one minus the share of (weighed) pairs in the wrong order
 */
import { horizonWeights } from './censoring-weights.ts';
import { checkedScores, type Scored } from './concordant-pairs.ts';
import { denseRanks } from './dense-ranks.ts';
import { StatisticsRefusal } from './refusal.ts';

export function aucAtHorizon(rows: Scored, horizon: number): number {
  const { time, score } = checkedScores('aucAtHorizon', rows);
  const weight = horizonWeights(rows, horizon);
  const { ranks, count } = denseRanks(score);
  const [outlivedAt, failedAt] = [new Float64Array(count + 1), new Float64Array(count + 1)];
  for (let i = 0; i < time.length; i++) {
    if (time[i]! > horizon) outlivedAt[ranks[i]!]! += 1;
    else failedAt[ranks[i]!]! += weight[i]!;
  }
  let [outlived, failed, right] = [0, 0, 0];
  for (let rank = 1; rank <= count; rank++) {
    right += failedAt[rank]! * (outlived + outlivedAt[rank]! / 2);
    outlived += outlivedAt[rank]!;
    failed += failedAt[rank]!;
  }
  if (!(failed > 0 && outlived > 0))
    throw new StatisticsRefusal(
      'aucAtHorizon',
      'a failure by the horizon and a life beyond it',
      failed > 0 ? 'none beyond' : 'no failure',
      'rows',
    );
  return right / (failed * outlived);
}
