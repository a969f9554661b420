/**
 * Change points by optimal partitioning: the cuts that make the penalised likelihood of normal segments greatest, each
 * with a level (or a straight line) and a variance of its own (Jackson et al. 2005).
 *
 * For: the day on which a part was exchanged and nobody wrote it down. Valid for finite values in order of x.
 * Cost of a segment of n points: n·log(max(RSS/n, floor)). A cut is made where it saves more than the penalty, by
 * default that of the Bayesian information criterion: log n for each parameter that a segment more brings, its place
 * included. Two equal neighbours have no variance and would always be cut out: hence a least length of segment (five
 * or more) and a floor of the variance, which is not to lie below that of the sensor's step.
 * Time grows with n², memory with n. Throws StatisticsRefusal for unequal lengths, a value that is not finite, a least
 * length below two, a floor that is not positive.
 *
 * @example changePoints(years, nile, { varianceFloor: 1 }).map(({ from }) => from) // [0, 28]: the flow fell in 1899
 */
import { StatisticsRefusal } from './refusal.ts';

export type Segment = {
  /** First index, and one past the last. */
  from: number;
  to: number;
  /** The fitted value at the segment's first and last x. */
  first: number;
  last: number;
  /** Residual sum of squares. */
  rss: number;
};
export type ChangePointOptions = {
  varianceFloor: number;
  minSegment?: number;
  model?: 'level' | 'line';
  penalty?: number;
};

const LEAST_SEGMENT = 5; // below, chance repetitions are cut out of the Nile series (at 4 and 6)

export function changePoints(x: Float64Array, y: Float64Array, options: ChangePointOptions): Segment[] {
  const { varianceFloor, minSegment = LEAST_SEGMENT, model = 'level' } = options;
  check(x, y, { minSegment, varianceFloor });
  const count = y.length;
  if (count === 0) return [];
  const parameters = model === 'line' ? 4 : 3;
  const penalty = options.penalty ?? parameters * Math.log(count);
  const sums = prefixSums(x, y);
  const cost = (from: number, to: number) =>
    (to - from) * Math.log(Math.max(fit(sums, { from, to, model }).rss / (to - from), varianceFloor));
  const best = new Float64Array(count + 1).fill(Infinity);
  const cut = new Int32Array(count + 1);
  best[0] = -penalty;
  for (let to = Math.min(minSegment, count); to <= count; to++) {
    for (let from = 0; from <= Math.max(0, to - minSegment); from++) {
      if (best[from] === Infinity) continue;
      const total = best[from]! + cost(from, to) + penalty;
      if (total < best[to]!) [best[to], cut[to]] = [total, from];
    }
  }
  return segments(x, sums, { cut, model });
}

function segments(
  x: Float64Array,
  sums: Sums,
  { cut, model }: { cut: Int32Array; model: 'level' | 'line' },
): Segment[] {
  const found: Segment[] = [];
  for (let to = x.length; to > 0; to = cut[to]!) {
    const from = cut[to]!;
    const { level, slope, centre, rss } = fit(sums, { from, to, model });
    const at = (index: number) => level + slope * (x[index]! - centre);
    found.push({ from, to, first: at(from), last: at(to - 1), rss });
  }
  return found.reverse();
}

type Sums = {
  x: Float64Array;
  y: Float64Array;
  xx: Float64Array;
  xy: Float64Array;
  yy: Float64Array;
  origin: { x: number; y: number };
};

/** Of values about the first x and the mean y, so that squares of large numbers do not cancel. */
function prefixSums(x: Float64Array, y: Float64Array): Sums {
  const origin = { x: x[0] ?? 0, y: y.reduce((sum, value) => sum + value, 0) / y.length };
  const running = (term: (index: number) => number) => {
    const sums = new Float64Array(y.length + 1);
    for (let index = 0; index < y.length; index++) sums[index + 1] = sums[index]! + term(index);
    return sums;
  };
  const dx = (index: number) => x[index]! - origin.x;
  const dy = (index: number) => y[index]! - origin.y;
  return {
    x: running(dx),
    y: running(dy),
    xx: running((index) => dx(index) ** 2),
    xy: running((index) => dx(index) * dy(index)),
    yy: running((index) => dy(index) ** 2),
    origin,
  };
}

type Piece = { from: number; to: number; model: 'level' | 'line' };

function fit(sums: Sums, { from, to, model }: Piece): { level: number; slope: number; centre: number; rss: number } {
  const n = to - from;
  const of = (column: Float64Array) => column[to]! - column[from]!;
  const [centre, mean] = [of(sums.x) / n, of(sums.y) / n];
  const syy = Math.max(0, of(sums.yy) - n * mean * mean);
  const level = mean + sums.origin.y;
  const sxx = of(sums.xx) - n * centre * centre;
  const middle = centre + sums.origin.x;
  if (model === 'level' || !(sxx > 0)) return { level, slope: 0, centre: middle, rss: syy };
  const sxy = of(sums.xy) - n * centre * mean;
  return { level, slope: sxy / sxx, centre: middle, rss: Math.max(0, syy - (sxy * sxy) / sxx) };
}

function check(x: Float64Array, y: Float64Array, limits: { minSegment: number; varianceFloor: number }): void {
  const refuse = (condition: string, got: number, where: string) => {
    throw new StatisticsRefusal('changePoints', condition, got, where);
  };
  if (x.length !== y.length) refuse(`as many x as y (${y.length})`, x.length, 'x');
  for (const [where, values] of Object.entries({ x, y })) {
    const wild = values.find((value) => !Number.isFinite(value));
    if (wild !== undefined) refuse('finite values', wild, where);
  }
  if (!(limits.minSegment >= 2)) refuse('two points or more in a segment', limits.minSegment, 'minSegment');
  if (!(limits.varianceFloor > 0)) refuse('a positive floor of the variance', limits.varianceFloor, 'varianceFloor');
}
