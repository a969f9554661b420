/**
 * Recall at the top: of those that failed by a horizon, the share found among the so many per cent with the highest score.
 *
 * For: what a bay that can take a twentieth of the fleet would have caught. Where the cut runs through equal scores,
 * those share what room is left. The room is that share of the rows; a part of a row counts as such.
 * Throws StatisticsRefusal for a share outside 0 to 1; answers `found` and `failed`, so that origins can be added up.
 *
 * @example recallAtTop({ score: Float64Array.of(4, 3, 2, 1), failed: Uint8Array.of(1, 0, 1, 0) }, 0.25) // 1 of 2
 */
import { denseRanks, inRankOrder } from './dense-ranks.ts';
import { StatisticsRefusal } from './refusal.ts';

export type Found = { found: number; failed: number };

export function recallAtTop(rows: { score: Float64Array; failed: Uint8Array }, share: number): Found {
  if (!(share > 0 && share <= 1)) throw new StatisticsRefusal('recallAtTop', 'a share over 0, up to 1', share, 'share');
  const { score, failed } = rows;
  const order = inRankOrder(denseRanks(score)).reverse();
  let [room, found] = [share * score.length, 0];
  for (let from = 0; from < order.length && room > 0;) {
    let [to, failedHere] = [from, 0];
    while (to < order.length && score[order[to]!] === score[order[from]!]) failedHere += failed[order[to++]!]!;
    const taken = Math.min(1, room / (to - from));
    found += taken * failedHere;
    room -= to - from;
    from = to;
  }
  return { found, failed: failed.reduce((sum, each) => sum + each, 0) };
}
