/**
 * Calibration curve by groups: forecasts in order of probability, cut into groups, each beside the share that failed.
 *
 * For: the picture of calibration. The share that failed by the horizon is one minus Kaplan–Meier of the group, so that
 * rows that were lost sight of count for as long as they were watched. A part exchanged as planned is one of them: a
 * forecast says what would fail if left in, and so does this. What share did fail, and what share was exchanged first, is
 * another question, which `aalen-johansen.ts` answers. Groups are cut at quantiles of the forecasts;
 * groups that would be equal are one. Throws StatisticsRefusal as `brierScore` does. O(n log n).
 *
 * @example calibrationGroups(rows, 90, groupEdges(rows.pFail, 10))
 */
import { checkedForecasts, type Forecasted } from './brier-score.ts';
import { kaplanMeier } from './kaplan-meier.ts';
import { quantile } from './quantile.ts';

export type CalibrationGroup = {
  rows: number;
  /** Mean forecast probability. */
  forecast: number;
  /** Share that failed by the horizon. */
  observed: number;
};

/** The upper edges of `count` groups with as many forecasts each, the last one Infinity. */
export function groupEdges(pFail: Float64Array, count: number): number[] {
  const edges = Array.from({ length: count - 1 }, (_, k) => quantile(pFail, (k + 1) / count));
  return [...new Set(edges), Infinity];
}

/** One entry per edge; null for a group without rows. */
export function calibrationGroups(
  rows: Forecasted,
  horizon: number,
  edges: readonly number[],
): (CalibrationGroup | null)[] {
  const { time, event, pFail } = checkedForecasts('calibrationGroups', rows);
  const members = edges.map((): number[] => []);
  pFail.forEach((p, i) => members[edges.findIndex((edge) => p <= edge)]!.push(i));
  return members.map((own) => {
    if (own.length === 0) return null;
    const exit = Float64Array.from(own, (i) => time[i]!);
    const curve = kaplanMeier({
      entry: new Float64Array(own.length),
      exit,
      event: Uint8Array.from(own, (i) => event[i]!),
    });
    const last = curve.time.findLastIndex((t) => t <= horizon);
    return {
      rows: own.length,
      forecast: own.reduce((sum, i) => sum + pFail[i]!, 0) / own.length,
      observed: last < 0 ? 0 : 1 - curve.survival[last]!,
    };
  });
}
