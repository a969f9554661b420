/** What was forecast against what came: a group of forecasts a mark, with its interval; on the diagonal all is well. */
import type { ComponentScores } from '../../api/contract/track-record.ts';
import { AXIS_NUMBER } from '../format.ts';
import { framed, type Frame, type Spec } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK_SOFT } from './colours.ts';

const HEIGHT = 260;
/** Most forecasts are small: the axes end where the largest group or interval does, at least here. */
const LEAST_END = 0.1;

export function reliabilityChart({ component, calibration }: ComponentScores, frame: Frame): Spec {
  const rows = calibration.groups.map(({ forecast, observed, forecasts }) => ({
    forecast,
    came: observed.value,
    low: observed.low ?? observed.value,
    high: observed.high ?? observed.value,
    forecasts,
  }));
  const end = Math.min(1, Math.max(LEAST_END, ...rows.flatMap(({ forecast, high }) => [forecast, high])));
  const scale = { domain: [0, end], nice: false as const };
  const axis = { format: AXIS_NUMBER.percent, tickCount: 5 };
  const x = { field: 'forecast', type: 'quantitative' as const, title: 'forecast', scale, axis };
  const y = { field: 'came', type: 'quantitative' as const, title: 'failed', scale, axis };
  const color = { value: COMPONENT_COLOURS[component] };
  const diagonal = [
    { forecast: 0, came: 0 },
    { forecast: end, came: end },
  ];
  return {
    ...framed(frame, HEIGHT),
    layer: [
      {
        data: { values: diagonal },
        mark: { type: 'line', strokeDash: [4, 4], strokeWidth: 1 },
        encoding: { x, y, color: { value: INK_SOFT } },
      },
      {
        data: { values: rows },
        mark: { type: 'rule', strokeWidth: 2 },
        encoding: {
          x: { field: 'forecast', type: 'quantitative' },
          y: { field: 'low', type: 'quantitative' },
          y2: { field: 'high' },
          color,
        },
      },
      {
        data: { values: rows },
        mark: { type: 'point', filled: true, size: 60, opacity: 1 },
        encoding: {
          x: { field: 'forecast', type: 'quantitative' },
          y: { field: 'came', type: 'quantitative' },
          color,
        },
      },
    ],
  };
}
