/** With a path of half a year the condition is trusted this far against the life model; less with a shorter one. */
export const MOST_TRUST = 0.75; // convention of this program until the backtest sets it
export const TRUSTED_POINTS = 9; // three-week medians in half a year
export const LEAST_POINTS = 3;
