/**
 * Straight line by least squares with a standard error of the slope that owns up to serial dependence: residuals of
 * neighbouring weeks are alike, so n points count as n·(1 − r)/(1 + r), r the first autocorrelation of the residuals
 * (common practice; at least 0, at most 0.9).
 *
 * Shapes: x and y of one length ≥ 3, any units. Throws RangeError below.
 *
 * @example lineFit(Float64Array.of(0, 1, 2, 3), Float64Array.of(1, 3, 5, 7)) // { slope: 2, intercept: 1, residual: 0, … }
 */
export type Line = { slope: number; intercept: number; slopeError: number; residual: number };

export function lineFit(x: Float64Array, y: Float64Array): Line {
  const n = x.length;
  if (n < 3 || y.length !== n) throw new RangeError(`line requires 3 points or more, got ${n} and ${y.length} (x, y)`);
  const meanX = mean(x);
  const meanY = mean(y);
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    xx += (x[i]! - meanX) ** 2;
    xy += (x[i]! - meanX) * (y[i]! - meanY);
  }
  const slope = xx > 0 ? xy / xx : 0;
  const residuals = y.map((value, i) => value - meanY - slope * (x[i]! - meanX));
  const squares = residuals.reduce((sum, value) => sum + value * value, 0);
  const r = Math.max(0, Math.min(0.9, autocorrelation(residuals, squares)));
  const effective = Math.max(3, (n * (1 - r)) / (1 + r));
  const residual = Math.sqrt(squares / (n - 2));
  const slopeError = xx > 0 ? (residual / Math.sqrt(xx)) * Math.sqrt(n / effective) : Infinity;
  return { slope, intercept: meanY - slope * meanX, slopeError, residual };
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function autocorrelation(residuals: Float64Array, squares: number): number {
  let product = 0;
  for (let i = 1; i < residuals.length; i++) product += residuals[i]! * residuals[i - 1]!;
  return squares > 0 ? product / squares : 0;
}
