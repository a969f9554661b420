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
import { StatisticsRefusal } from './refusal.ts';

export function aucAtHorizon(rows: Scored, horizon: number): number {
  const { time, score } = checkedScores('aucAtHorizon', rows);
  const weight = horizonWeights(rows, horizon);
  const order = Array.from(score, (_, i) => i).sort((a, b) => score[a]! - score[b]!);
  let [outlived, failed, right] = [0, 0, 0];
  for (let from = 0; from < order.length;) {
    let [to, outlivedHere, failedHere] = [from, 0, 0];
    while (to < order.length && score[order[to]!] === score[order[from]!]) {
      const i = order[to++]!;
      if (time[i]! > horizon) outlivedHere++;
      else failedHere += weight[i]!;
    }
    right += failedHere * (outlived + outlivedHere / 2);
    outlived += outlivedHere;
    failed += failedHere;
    from = to;
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
