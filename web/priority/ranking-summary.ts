/** The figures of the sentence above the list. */
import type { Ranking, RankingRow } from '../../api/contract/ranking.ts';
import { isForeseen } from '../foreseen.ts';
import { decisionOf } from './ranking-selection.ts';

export type RankingSummary = {
  /** Units of the ranking. */
  units: number;
  /** Jobs to book now that nobody has booked or deferred, and the units they stand on. */
  openJobs: number;
  openUnits: number;
  /** Expected cost of leaving all of those to their next visit. */
  waitingMinor: number;
  booked: number;
  deferred: number;
  /** Open jobs whose forecast a test could change. */
  toMeasure: number;
  /** Jobs with a forecast, and open jobs without one. */
  foreseen: number;
  unforeseen: number;
  /** Jobs to book now that ranked at least ten places lower before, or not at all. */
  risen: number;
};

/** A move of fewer places is the ranking's own restlessness (common practice). */
const RISE = 10;

export function summarise(ranking: Pick<Ranking, 'rows' | 'previousAsOf'>): RankingSummary {
  const { rows } = ranking;
  const open = rows.filter((row) => row.action === 'book_now' && decisionOf(row) === 'open');
  return {
    units: unitsOf(rows),
    openJobs: open.length,
    openUnits: unitsOf(open),
    waitingMinor: open.reduce((sum, row) => sum + (row.costOfWaitingMinor ?? 0), 0),
    booked: rows.filter((row) => decisionOf(row) === 'booked').length,
    deferred: rows.filter((row) => decisionOf(row) === 'deferred').length,
    toMeasure: rows.filter((row) => row.action === 'measure_first' && isForeseen(row) && decisionOf(row) === 'open')
      .length,
    foreseen: rows.filter(isForeseen).length,
    unforeseen: rows.filter((row) => !isForeseen(row) && decisionOf(row) === 'open').length,
    risen:
      ranking.previousAsOf === null
        ? 0
        : open.filter((row) => row.rankBefore === null || row.rankBefore - row.rank >= RISE).length,
  };
}

function unitsOf(rows: readonly RankingRow[]): number {
  return new Set(rows.map((row) => row.unit)).size;
}
