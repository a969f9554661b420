/**
 * One indicator over time: daily medians as logged (thin line) and corrected to the class's reference temperature
 * (points), the trend with the scatter about it, and the trend carried forward with its slope's 95 % interval.
 * Below, on the same axis, the component's failure window.
 */
import type { UnitOutlook, UnitTrend } from '../../api/contract/unit.ts';
import { AXIS_NUMBER } from '../format.ts';
import { INDICATOR_WORDS } from '../words.ts';
import { dateMs, dayMs, framed, timeAxis, type Frame, type Spec, type TimeDomain } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK, INK_SOFT } from './colours.ts';
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

type Row = { at: number; value: number; low?: number; high?: number };

export function indicatorChart(trend: UnitTrend, context: IndicatorContext, frame: Frame): Spec {
  const { scale } = INDICATOR_WORDS[trend.indicator];
  const colour = COMPONENT_COLOURS[trend.component];
  const x = timeAxis(context.domain);
  const y = {
    field: 'value',
    type: 'quantitative' as const,
    title: null,
    scale: { zero: false },
    axis: { format: AXIS_NUMBER.plain },
  };
  const points = (values: readonly number[]): Row[] =>
    thinEvenly(trend.days.map((day, index) => ({ at: dayMs(day), value: values[index]! * scale })));
  const line = trendRows(trend, context, scale);
  const rules = [{ at: dateMs(context.asOfOn) }];
  return {
    ...framed(frame, HEIGHT),
    layer: [
      ...windowStrip(context, colour),
      area(line.past, colour, 0.16, x, y),
      area(line.ahead, colour, 0.1, x, y),
      {
        data: { values: points(trend.rawValues) },
        mark: { type: 'line', color: INK_SOFT, strokeWidth: 0.6, opacity: 0.55, clip: true },
        encoding: { x, y },
      },
      {
        data: { values: points(trend.values) },
        mark: { type: 'point', filled: true, size: 7, color: colour, opacity: 0.7, clip: true },
        encoding: { x, y },
      },
      {
        data: { values: line.past },
        mark: { type: 'line', color: colour, strokeWidth: 2, clip: true },
        encoding: { x, y },
      },
      {
        data: { values: line.ahead },
        mark: { type: 'line', color: colour, strokeWidth: 2, strokeDash: [5, 4], clip: true },
        encoding: { x, y },
      },
      { data: { values: rules }, mark: { type: 'rule', color: INK_SOFT }, encoding: { x } },
      {
        data: { values: context.replacedOn.map((on) => ({ at: dateMs(on) })) },
        mark: { type: 'rule', color: INK, strokeDash: [2, 2], clip: true },
        encoding: { x },
      },
    ],
  };
}

/** Two ends suffice: all of it is straight. */
function trendRows(trend: UnitTrend, context: IndicatorContext, scale: number): { past: Row[]; ahead: Row[] } {
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

function area(rows: Row[], color: string, opacity: number, x: object, y: object) {
  const values = rows.flatMap((row) =>
    row.low === undefined || row.high === undefined ? [] : [{ at: row.at, value: row.low, high: row.high }],
  );
  return {
    data: { values },
    mark: { type: 'area' as const, color, opacity, clip: true },
    encoding: { x, y, y2: { field: 'high' } },
  };
}

function windowStrip({ domain, outlook }: IndicatorContext, color: string) {
  if (outlook === null || outlook.windowEarlyOn === null) return [];
  const end = outlook.windowLateOn === null ? domain.to : Math.min(domain.to, dateMs(outlook.windowLateOn));
  const values = [{ at: dateMs(outlook.windowEarlyOn), end }];
  const encoding = { x: timeAxis(domain), x2: { field: 'end' }, y: { value: HEIGHT - 6 }, y2: { value: HEIGHT } };
  return [{ data: { values }, mark: { type: 'rect' as const, color, opacity: 0.8, clip: true }, encoding }];
}
