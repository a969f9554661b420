/**
 * Relative compression: height of the weakest cylinder's compression over that of the strongest, 0 to 1, from the heights
 * of successive compressions. Equal peaks are equal cylinders; one at 0.72 of the others is a weak one (training text):
 * that is the engine's fault, not the starter's.
 *
 * After how many compressions the heights repeat (the cylinders) is told by the heights themselves: the number that the
 * Bayesian information criterion prefers, 1 meaning that all are alike. Means of few cycles are drawn to their common
 * mean by what their scatter would make of equal cylinders (James–Stein), so that noise alone makes no weak cylinder.
 * NaN where the weakest has not come round twice, or with heights that follow no such order.
 *
 * @example // 10 10 7.2 10 10 10 7.2 10 10 10 7.2 10: 0.72.   10 10 10 10 10 10 10 10: 1
 */
import { theilSen } from '../stats/theil-sen.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';

export function relativeCompression(heights: readonly number[]): number {
  const least = C.cylinders[0] * C.cycles;
  if (heights.length < least || heights.some((height) => !(height > 0))) return Number.NaN;
  const level = levelled(heights);
  const equal = fitOf(level, 1);
  const fits = C.cylinders.flatMap((cylinders) => [
    ...(level.length >= cylinders * C.cycles ? [fitOf(level, cylinders)] : []),
    ...oneWeak(level, cylinders),
  ]);
  const best = fits.reduce((most, fit) => (fit.criterion < most.criterion ? fit : most), equal);
  if (Math.sqrt(best.variance) > (best === equal ? C.equalScatterMost : C.scatterMost)) return Number.NaN;
  return Math.min(...best.means) / Math.max(...best.means);
}

/** Freed of what grows or fades evenly: the first compressions are the slowest and the highest. Median about 1. */
function levelled(heights: readonly number[]): number[] {
  const { slope, intercept } = theilSen(
    Float64Array.from(heights, (_, i) => i),
    Float64Array.from(heights),
  );
  const line = (i: number) => Math.max(intercept + slope * i, Number.EPSILON);
  return heights.map((height, i) => height / line(i));
}

type Fit = { means: number[]; variance: number; criterion: number };

/** Smaller than any scatter of a log: exact repetition must not divide by nothing. */
const LEAST_VARIANCE = 1e-8;

/** Mean height of each of `cylinders`, every so many heights; their own scatter; the information criterion. */
function fitOf(heights: readonly number[], cylinders: number): Fit {
  const n = heights.length;
  const own = (j: number) => heights.filter((_, i) => i % cylinders === j);
  const means = Array.from({ length: cylinders }, (_, j) => mean(own(j)));
  const squares = heights.reduce((sum, height, i) => sum + (height - means[i % cylinders]!) ** 2, 0);
  const variance = Math.max(squares / Math.max(1, n - cylinders), LEAST_VARIANCE);
  const criterion = n * Math.log(Math.max(squares / n, LEAST_VARIANCE)) + cylinders * Math.log(n);
  const between = means.reduce((sum, each) => sum + (each - 1) ** 2, 0) / Math.max(1, cylinders - 1);
  const keep = between > 0 ? Math.max(0, 1 - (variance * cylinders) / n / between) : 0;
  return { means: means.map((each) => 1 + keep * (each - 1)), variance, criterion };
}

/** All cylinders alike but one, whichever: two means instead of many, so that fewer cycles show it. */
function oneWeak(heights: readonly number[], cylinders: number): Fit[] {
  const n = heights.length;
  const fits: Fit[] = [];
  // Seen once it may be anything: its cylinder must come round again, and be weak each time.
  for (let weak = 0; weak < Math.min(cylinders, n - cylinders); weak++) {
    const own = heights.filter((_, i) => i % cylinders === weak);
    const means = [mean(own), mean(heights.filter((_, i) => i % cylinders !== weak))] as const;
    if (own.some((height) => height > (means[0] + means[1]) / 2)) continue;
    const squares = heights.reduce((sum, height, i) => sum + (height - means[i % cylinders === weak ? 0 : 1]) ** 2, 0);
    // Which of the cylinders it is counts as a parameter too.
    const criterion = n * Math.log(Math.max(squares / n, LEAST_VARIANCE)) + 3 * Math.log(n);
    fits.push({ means: [...means], variance: Math.max(squares / (n - 2), LEAST_VARIANCE), criterion });
  }
  return fits;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
