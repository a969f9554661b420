/**
 * One indicator over time: daily medians as logged (thin line) and corrected to the class's reference temperature
 * (points), the trend with the scatter about it, and the trend carried forward with its slope's 95 % interval.
 * Below, on the same axis, the component's failure window.
 */
import type { UnitOutlook, UnitTrend } from '../../api/contract/unit.ts';
import { AXIS_NUMBER, AXIS_RATIO } from '../format.ts';
import { COUNTED_INDICATORS, INDICATOR_WORDS } from '../words.ts';
import { AT, dateMs, dayMs, framed, timeAxis, type Frame, type Spec, type TimeDomain } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK, INK_SOFT } from './colours.ts';
import { daysBeyond, indicatorRange, type IndicatorRange } from './indicator-range.ts';
import { ratioTicks } from './ratio-ticks.ts';
import { thinEvenly } from './thin.ts';

export type IndicatorContext = {
  domain: TimeDomain;
  asOfOn: string;
  outlook: UnitOutlook | null;
  /** Days on which the component was replaced. */
  replacedOn: readonly string[];
};

const HEIGHT = 128;
/** Of a normal scatter, 95 % lie within so many standard deviations. */
const NORMAL_95 = 1.96;
const YEAR_DAYS = 365.25;
/** Days without a crank over which the thin line still runs (common practice). */
const LONGEST_GAP_DAYS = 21;

type Row = { at: number; value: number | null; low?: number; high?: number };
/** Two ends each suffice: all of it is straight. */
type Trend = { past: Row[]; ahead: Row[] };

export function indicatorChart(trend: UnitTrend, context: IndicatorContext, frame: Frame): Spec {
  const { scale, logarithm } = INDICATOR_WORDS[trend.indicator];
  const line = trendRows(trend, context, scale);
  const range = chartRange(trend, context);
  const colour = COMPONENT_COLOURS[trend.component];
  const x = AT;
  const y = {
    field: 'value',
    type: 'quantitative' as const,
    title: null,
    scale: valueScale(trend, range),
    axis: logarithm ? ratioAxis(trend, line, range) : { format: AXIS_NUMBER.plain },
  };
  const points = (values: readonly number[]): Row[] =>
    thinEvenly(trend.days.map((day, index) => ({ at: dayMs(day), value: values[index]! * scale })));
  const rules = [{ at: dateMs(context.asOfOn) }];
  return {
    ...framed(frame, HEIGHT),
    layer: [
      ...windowStrip(context, colour),
      ...trendBands(line, colour, y),
      {
        data: { values: brokenAtGaps(points(trend.rawValues)) },
        mark: { type: 'line', color: INK_SOFT, strokeWidth: 0.6, opacity: 0.55, clip: true },
        encoding: { x, y },
      },
      {
        data: { values: points(trend.values) },
        mark: { type: 'point', filled: true, size: 7, color: colour, opacity: 0.7, clip: true },
        encoding: { x, y },
      },
      ...trendLines(line, colour, y),
      ...beyondMarks(trend, range, { from: context.domain.from, y }),
      { data: { values: rules }, mark: { type: 'rule', color: INK_SOFT }, encoding: { x: timeAxis(context.domain) } },
      {
        data: { values: context.replacedOn.map((on) => ({ at: dateMs(on) })) },
        mark: { type: 'rule', color: INK, strokeDash: [2, 2], clip: true },
        encoding: { x },
      },
    ],
  };
}

/** What the axis spans: null where whatever is drawn decides. */
export function chartRange(trend: UnitTrend, context: IndicatorContext): IndicatorRange | null {
  const { past, ahead } = trendRows(trend, context, INDICATOR_WORDS[trend.indicator].scale);
  const ends = [...past.flatMap(({ low, high }) => [low, high]), ...ahead.map(({ value }) => value ?? undefined)];
  return indicatorRange(trend, ends.filter(isKnown));
}

function valueScale({ indicator }: UnitTrend, range: IndicatorRange | null) {
  // A count in a hundred has no days below none, whatever the band of its straight trend says.
  if (COUNTED_INDICATORS.includes(indicator)) return { domainMin: 0 };
  return range === null ? { zero: false } : { zero: false, domain: [range.low, range.high], nice: false };
}

/** Drawn by the logarithm, in which the trend is straight; read as the ratio that the sentence above names. */
function ratioAxis({ values, rawValues }: UnitTrend, { past, ahead }: Trend, range: IndicatorRange | null) {
  const bands = [...past, ...ahead].flatMap(({ low, high }) => [low, high]);
  const drawn = range === null ? [...values, ...rawValues, ...bands].filter(isKnown) : [range.low, range.high];
  return { values: ratioTicks(Math.min(...drawn), Math.max(...drawn)), labelExpr: AXIS_RATIO };
}

/** Days beyond the axis stand at its edge as triangles that point to where they lie. */
function beyondMarks(trend: UnitTrend, range: IndicatorRange | null, { from, y }: { from: number; y: object }) {
  const beyond = daysBeyond(trend, range).filter((index) => dayMs(trend.days[index]!) >= from);
  if (range === null || beyond.length === 0) return [];
  const { scale } = INDICATOR_WORDS[trend.indicator];
  const values = beyond.map((index) => {
    const isAbove = Math.max(trend.values[index]!, trend.rawValues[index]!) * scale > range.high;
    const shape = isAbove ? 'triangle-up' : 'triangle-down';
    return { at: dayMs(trend.days[index]!), value: isAbove ? range.high : range.low, shape };
  });
  const shape = { field: 'shape', type: 'nominal' as const, scale: null, legend: null };
  const mark = { type: 'point' as const, filled: true, size: 34, color: INK_SOFT };
  return [{ data: { values }, mark, encoding: { x: AT, y, shape } }];
}

const isKnown = (value: number | undefined): value is number => Number.isFinite(value);

function trendRows(trend: UnitTrend, context: IndicatorContext, scale: number): Trend {
  const { level, slopePerYear, slopeLow, slopeHigh } = trend;
  if (level === null || slopePerYear === null) return { past: [], ahead: [] };
  const asOf = dateMs(context.asOfOn);
  const since = trend.sinceOn === null ? context.domain.from : Math.max(dateMs(trend.sinceOn), context.domain.from);
  const years = (at: number) => (at - asOf) / dayMs(YEAR_DAYS);
  const spread = NORMAL_95 * (trend.residual ?? 0);
  const past = [since, asOf].map((at) => {
    const value = level + slopePerYear * years(at);
    return { at, value: value * scale, low: (value - spread) * scale, high: (value + spread) * scale };
  });
  const ahead = [asOf, context.domain.to].map((at) => ({
    at,
    value: (level + slopePerYear * years(at)) * scale,
    low: (level + (slopeLow ?? slopePerYear) * years(at)) * scale,
    high: (level + (slopeHigh ?? slopePerYear) * years(at)) * scale,
  }));
  return { past, ahead };
}

/** No layer at all without a trend: the chart library warns of scales over nothing. */
function trendBands({ past, ahead }: Trend, color: string, y: object) {
  const band = (rows: Row[], opacity: number) => ({
    data: { values: rows.map(({ at, low, high }) => ({ at, value: low, high })) },
    mark: { type: 'area' as const, color, opacity, clip: true },
    encoding: { x: AT, y, y2: { field: 'high' } },
  });
  return past.length === 0 ? [] : [band(past, 0.16), band(ahead, 0.1)];
}

function trendLines({ past, ahead }: Trend, color: string, y: object) {
  const line = (rows: Row[], strokeDash: number[]) => ({
    data: { values: rows },
    mark: { type: 'line' as const, color, strokeWidth: 2, strokeDash, clip: true },
    encoding: { x: AT, y },
  });
  return past.length === 0 ? [] : [line(past, [1, 0]), line(ahead, [5, 4])];
}

/** A line over months without a crank would show what nobody has seen. */
function brokenAtGaps(rows: readonly Row[]): Row[] {
  return rows.flatMap((row, index) => {
    const before = rows[index - 1]?.at ?? row.at;
    return row.at - before > dayMs(LONGEST_GAP_DAYS) ? [{ at: before + 1, value: null }, row] : [row];
  });
}

function windowStrip({ domain, outlook }: IndicatorContext, color: string) {
  if (outlook === null || outlook.windowEarlyOn === null) return [];
  const end = outlook.windowLateOn === null ? domain.to : Math.min(domain.to, dateMs(outlook.windowLateOn));
  const values = [{ at: dateMs(outlook.windowEarlyOn), end }];
  const encoding = { x: AT, x2: { field: 'end' }, y: { value: HEIGHT - 6 }, y2: { value: HEIGHT } };
  return [{ data: { values }, mark: { type: 'rect' as const, color, opacity: 0.8, clip: true }, encoding }];
}
