/**
 * What an indicator's axis spans: the days but for odd ones, and the trend. One reading of a loose clamp would
 * otherwise press a year of tenths of a volt into a line.
 */
import type { UnitTrend } from '../../api/contract/unit.ts';
import { COUNTED_INDICATORS, INDICATOR_WORDS } from '../words.ts';

/** In what is drawn: the stored value times its scale, a logarithm where the indicator is one. */
export type IndicatorRange = { low: number; high: number };

/** A day is odd that lies further beyond this share of the days than they spread themselves. Program. */
const BULK = { from: 0.02, to: 0.98 } as const;
/** Room above and below the outermost mark. Common practice. */
const ROOM = 0.04;

/** `also`: what has to be seen as well, such as the ends of a trend. Null: whatever is drawn decides. */
export function indicatorRange(trend: UnitTrend, also: readonly number[]): IndicatorRange | null {
  // Counts of rare things are nothing on nearly all days: there the odd day is what is looked for.
  if (COUNTED_INDICATORS.includes(trend.indicator)) return null;
  const { scale } = INDICATOR_WORDS[trend.indicator];
  const drawn = [...trend.values, ...trend.rawValues].filter(Number.isFinite).map((value) => value * scale);
  const fence = fenceOf(drawn);
  if (fence === null) return null;
  const inside = (value: number) => value >= fence.low && value <= fence.high;
  const seen = [...drawn.filter(inside), ...also];
  const [low, high] = [Math.min(...seen), Math.max(...seen)];
  return { low: low - ROOM * (high - low), high: high + ROOM * (high - low) };
}

/** Days of which a mark, corrected or as logged, lies beyond the axis: by index. */
export function daysBeyond({ values, rawValues, indicator }: UnitTrend, range: IndicatorRange | null): number[] {
  if (range === null) return [];
  const { scale } = INDICATOR_WORDS[indicator];
  const isBeyond = (value: number | undefined) =>
    value !== undefined && (value * scale < range.low || value * scale > range.high);
  return values.flatMap((value, index) => (isBeyond(value) || isBeyond(rawValues[index]) ? [index] : []));
}

function fenceOf(values: readonly number[]): IndicatorRange | null {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? NaN;
  const [from, to] = [at(BULK.from), at(BULK.to)];
  const spread = to - from;
  return spread > 0 ? { low: from - spread, high: to + spread } : null;
}
