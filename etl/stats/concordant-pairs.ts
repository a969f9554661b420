/**
 * Pairs of lives whose order is known, and in how many of them the score had the order right.
 *
 * For: both C-indices. A pair is usable if the one with the shorter time failed; at equal times if one failed and the
 * other was still watched. Right: the one that failed first had the higher score; equal scores count half.
 * Each pair counts with the weight of its failure. O(n log n): lives are taken from the longest time to the shortest
 * while a tree of sums (Fenwick 1994) keeps how many with each score are still alive.
 *
 * @example // score orders three lives as they failed: all of 3 pairs
 */
import { checkedRows, type Watched } from './censoring-weights.ts';
import { denseRanks, inRankOrder } from './dense-ranks.ts';
import { StatisticsRefusal } from './refusal.ts';

/** The higher the score, the sooner a failure is expected. */
export type Scored = Watched & { score: Float64Array };

export type Pairs = { usable: number; right: number };

export function concordantPairs(rows: Scored, weightOf: (time: number) => number): Pairs {
  const { time, event, score } = checkedScores('concordantPairs', rows);
  const { ranks, count: scores } = denseRanks(score);
  const order = inRankOrder(denseRanks(time)).reverse();
  const alive = new Float64Array(scores + 1);
  let [usable, right, count] = [0, 0, 0];
  const add = (i: number) => {
    count++;
    for (let at = ranks[i]!; at < alive.length; at += at & -at) alive[at]! += 1;
  };
  for (let from = 0; from < order.length;) {
    let to = from;
    while (to < order.length && time[order[to]!] === time[order[from]!]) to++;
    // Still watched at this time: outlived the failures of the same day.
    for (let k = from; k < to; k++) if (event[order[k]!] !== 1) add(order[k]!);
    for (let k = from; k < to; k++) {
      const i = order[k]!;
      if (event[i] !== 1) continue;
      const weight = weightOf(time[i]!);
      const [below, upTo] = [prefix(alive, ranks[i]! - 1), prefix(alive, ranks[i]!)];
      usable += weight * count;
      right += weight * (below + 0.5 * (upTo - below));
    }
    for (let k = from; k < to; k++) if (event[order[k]!] === 1) add(order[k]!);
    from = to;
  }
  return { usable, right };
}

function prefix(sums: Float64Array, rank: number): number {
  let sum = 0;
  for (let at = rank; at > 0; at -= at & -at) sum += sums[at]!;
  return sum;
}

export function checkedScores<Rows extends Scored>(what: string, rows: Rows): Rows {
  checkedRows(what, rows);
  if (rows.score.length !== rows.time.length)
    throw new StatisticsRefusal(what, `${rows.time.length} values, one a row`, rows.score.length, 'score');
  rows.score.forEach((value, i) => {
    if (!Number.isFinite(value)) throw new StatisticsRefusal(what, 'finite scores', value, `score[${i}]`);
  });
  return rows;
}
