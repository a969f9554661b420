/** What all charts share: size, type, hairlines, and a time axis in UTC days. */
import type { TopLevelSpec } from 'vega-lite';
import { AXIS_MONTH } from '../format.ts';
import { INK_SOFT, RULE } from './colours.ts';

/** Outer width of the chart in px, and the part of it left of the plot: equal in charts that share a time axis. */
export type Frame = { width: number; left: number };
export type Spec = TopLevelSpec;

/** Right of the plot, room for half a label of the time axis. */
const RIGHT = 18;
/** Below the plot, room for the tails of the axis labels. */
const BELOW = 4;

const TEXT_FACE = "system-ui, -apple-system, 'Segoe UI', 'Noto Sans', sans-serif";

export function plotWidth(frame: Frame): number {
  return Math.max(120, frame.width - frame.left - RIGHT);
}

export function framed(
  frame: Frame,
  height: number,
): Pick<TopLevelSpec, '$schema' | 'padding' | 'background' | 'config'> & {
  width: number;
  height: number;
} {
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    width: plotWidth(frame),
    height,
    padding: { left: 0, right: RIGHT, top: 6, bottom: BELOW },
    background: 'transparent',
    config: {
      font: TEXT_FACE,
      view: { stroke: null },
      axis: {
        domainColor: RULE,
        gridColor: RULE,
        tickColor: RULE,
        labelColor: INK_SOFT,
        titleColor: INK_SOFT,
        labelFontSize: 11,
        titleFontSize: 11,
        titleFontWeight: 'normal',
        labelPadding: 5,
      },
      axisY: { minExtent: frame.left, maxExtent: frame.left, tickCount: 4, domain: false, ticks: false },
      axisX: { grid: false },
    },
  };
}

/** Days since 1970 → milliseconds, as the time scale wants them. */
export const dayMs = (day: number): number => day * 86_400_000;
export const dateMs = (on: string): number => Date.parse(`${on}T00:00:00Z`);

export type TimeDomain = { from: number; to: number };

/** Position on the time axis. One layer of a chart takes `timeAxis`, the others this: vega-lite warns of each repeat. */
export const AT = { field: 'at', type: 'temporal' as const, title: null };

/** The domain is an expression: plain numbers become `datetime(ms)`, which vega's interpreter takes for a year. */
export function timeAxis({ from, to }: TimeDomain) {
  return {
    ...AT,
    scale: { type: 'utc' as const, domain: { expr: `[${from}, ${to}]` }, nice: false as const },
    axis: { tickCount: 8, labelExpr: AXIS_MONTH, labelOverlap: true, labelSeparation: 8, labelFlush: false },
  };
}
