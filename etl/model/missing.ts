/**
 * What "missing" means here, in one place.
 *
 * In rows and in everything that is sent, an unknown value is `null`. In Float64 columns it is `NaN`.
 * No other value stands for missing: not 0, not -1, not ''. (`position` is '' where a unit has one engine: that is
 * a value, not a gap.)
 */
/** Column value → row value: NaN becomes null. */
export function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
