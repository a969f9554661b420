/** With a path of half a year the condition is trusted this far against the life model; less with a shorter one. */
const MOST_TRUST = 0.75; // convention of this program until the backtest sets it
const TRUSTED_POINTS = 9; // three-week medians in half a year
/** A path of fewer points says nothing. */
export const LEAST_POINTS = 3;

/** Weight of the condition, 0 to 1, by the points of its path. */
export function conditionTrust(points: number): number {
  return points < LEAST_POINTS ? 0 : MOST_TRUST * Math.min(1, points / TRUSTED_POINTS);
}
