/** Round values for an axis that is drawn by the logarithm but read as the value itself. */

/** Steps from coarse to fine: the first that puts three marks or more between the ends serves. */
const STEPS = [1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01] as const;
const ENOUGH = 3;
/** Further marks than these would run into each other on a low chart. */
const MOST = 6;

/** `low` and `high` are logarithms, and so are the ticks. */
export function ratioTicks(low: number, high: number): number[] {
  const [from, to] = [Math.exp(low), Math.exp(high)];
  for (const step of STEPS) {
    const first = Math.ceil(from / step);
    const count = Math.floor(to / step) - first + 1;
    if (count < ENOUGH) continue;
    const every = Math.ceil(count / MOST);
    return Array.from({ length: Math.ceil(count / every) }, (_, index) => (first + index * every) * step)
      .filter((value) => value > 0)
      .map(Math.log);
  }
  return [low, high];
}
