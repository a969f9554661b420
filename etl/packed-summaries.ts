import type { EngineSeries } from './outlook/condition-index.ts';
import type { Weekly } from './trends/weekly-medians.ts';

/**
 * One engine's indicators with their weekly medians side by side in one piece of memory. Each in memory of its own, the
 * forty small pieces that an engine has would take more to keep than what is in them.
 */
export function packedSummaries(series: EngineSeries['series']): EngineSeries['series'] {
  const summaries = Object.entries(series);
  const points = summaries.reduce(
    (sum, [, { threeWeekly, recent }]) => sum + pointsOf(threeWeekly) + pointsOf(recent),
    0,
  );
  const piece = new Float64Array(points);
  let used = 0;
  const copy = (column: Float64Array): Float64Array => {
    const kept = piece.subarray(used, used + column.length);
    kept.set(column);
    used += column.length;
    return kept;
  };
  const packed = ({ day, value }: Weekly): Weekly => ({ day: copy(day), value: copy(value) });
  return Object.fromEntries(
    summaries.map(([name, { threeWeekly, recent, ...rest }]) => [
      name,
      { threeWeekly: packed(threeWeekly), recent: packed(recent), ...rest },
    ]),
  );
}

function pointsOf({ day, value }: Weekly): number {
  return day.length + value.length;
}
