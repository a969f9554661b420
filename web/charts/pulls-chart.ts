/** Month by month: hits above the line; needless pulls and misses beside them, told apart by fill and words, not colour. */
import type { PullMonth } from '../../api/contract/track-record.ts';
import { AXIS_NUMBER } from '../format.ts';
import { dateMs, framed, timeAxis, type Frame, type Spec } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK } from './colours.ts';

const HEIGHT = 90;
export const PULL_KINDS = ['hits', 'misses', 'needless'] as const;
export const PULL_WORDS: Record<(typeof PULL_KINDS)[number], string> = {
  hits: 'Hits',
  misses: 'Misses',
  needless: 'Needless pulls',
};
const MONTH_MS = 31 * 86_400_000;

/** One kind in one component; the three share the time axis and the scale of counts. */
export function pullsChart(
  months: readonly PullMonth[],
  { kind, component, most }: { kind: (typeof PULL_KINDS)[number]; component: PullMonth['component']; most: number },
  frame: Frame,
): Spec {
  const all = months.map(({ month }) => dateMs(`${month}-01`));
  const domain = { from: Math.min(...all), to: Math.max(...all) + MONTH_MS };
  const rows = months
    .filter((each) => each.component === component && each[kind] > 0)
    .map((each) => {
      const at = dateMs(`${each.month}-01`);
      return { at: at + MONTH_MS * 0.15, end: at + MONTH_MS * 0.8, many: each[kind] };
    });
  const y = {
    field: 'many',
    type: 'quantitative' as const,
    title: null,
    scale: { domain: [0, Math.max(1, most)], nice: false as const },
    axis: { format: AXIS_NUMBER.plain, tickMinStep: 1, tickCount: 3 },
  };
  const fill = kind === 'hits' ? { value: COMPONENT_COLOURS[component] } : { value: 'transparent' };
  return {
    ...framed(frame, HEIGHT),
    layer: [
      {
        data: { values: rows },
        mark: { type: 'rect', strokeWidth: 1.5, strokeDash: kind === 'misses' ? [3, 2] : [1, 0] },
        encoding: {
          x: timeAxis(domain),
          x2: { field: 'end' },
          y,
          y2: { datum: 0 },
          fill,
          stroke: { value: kind === 'misses' ? INK : COMPONENT_COLOURS[component] },
        },
      },
    ],
  };
}
