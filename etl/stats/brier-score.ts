/**
 * Brier score at a horizon, censoring weighed out: the mean square of forecast probability minus what happened.
 *
 * For: how near forecast probabilities come. 0 is perfect; a constant forecast of the share that fails gives p·(1 − p).
 * Score = 1/n · Σ wᵢ·(pᵢ − 1(Tᵢ ≤ horizon))² with the weights of `horizonWeights` (Graf and others 1999).
 * Skill (IPA, Kattan & Gerds 2018) = 1 − score / score of a reference forecast: 0 no better, under 0 worse.
 * Throws StatisticsRefusal for a probability outside 0 to 1, no rows, or a reference that cannot be improved upon. O(n log n).
 *
 * @example // ten lives, risks at 5: 0.049375; of a constant forecast 0.219375; skill 0.7749
 */
import { horizonWeights, type Watched } from './censoring-weights.ts';
import { StatisticsRefusal } from './refusal.ts';

/** Forecast probability of failing by the horizon. */
export type Forecasted = Watched & { pFail: Float64Array };

export function brierScore(rows: Forecasted, horizon: number): number {
  const { time, pFail } = checkedForecasts('brierScore', rows);
  const weight = horizonWeights(rows, horizon);
  let sum = 0;
  for (let i = 0; i < time.length; i++) sum += weight[i]! * (pFail[i]! - Number(time[i]! <= horizon)) ** 2;
  return sum / time.length;
}

export function brierSkill(score: number, reference: number): number {
  if (!(reference > 0)) throw new StatisticsRefusal('brierSkill', 'a reference above 0', reference, 'reference');
  return 1 - score / reference;
}

export function checkedForecasts<Rows extends Forecasted>(what: string, rows: Rows): Rows {
  if (rows.time.length === 0) throw new StatisticsRefusal(what, 'at least one row', 0, 'rows');
  if (rows.pFail.length !== rows.time.length)
    throw new StatisticsRefusal(what, `${rows.time.length} values, one a row`, rows.pFail.length, 'pFail');
  rows.pFail.forEach((p, i) => {
    if (!(p >= 0 && p <= 1)) throw new StatisticsRefusal(what, 'a probability from 0 to 1', p, `pFail[${i}]`);
  });
  return rows;
}
