/** Where failures fell against their window: before, inside, after, each share with its interval beside what is right. */
import type { ComponentScores } from '../../api/contract/track-record.ts';
import { AXIS_NUMBER } from '../format.ts';
import { framed, type Frame, type Spec } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK, INK_SOFT } from './colours.ts';

const HEIGHT = 96;
/** The window runs from the 10 to the 90 % point. */
const PLACES = [
  { place: 'before', right: 0.1 },
  { place: 'inside', right: 0.8 },
  { place: 'after', right: 0.1 },
] as const;

export function windowChart({ component, window }: ComponentScores, frame: Frame): Spec {
  const rows = PLACES.flatMap(({ place }) => {
    const share = window[place];
    return share === null
      ? []
      : [{ place, at: share.value, low: share.low ?? share.value, high: share.high ?? share.value }];
  });
  const unsaid = PLACES.filter(({ place }) => window[place] === null).map(({ place }) => ({
    place,
    words: 'too few followed to its end',
  }));
  const y = {
    field: 'place',
    type: 'nominal' as const,
    title: null,
    scale: { domain: PLACES.map(({ place }) => place) },
  };
  const x = {
    field: 'at',
    type: 'quantitative' as const,
    title: null,
    scale: { domain: [0, 1] },
    axis: { format: AXIS_NUMBER.percent, tickCount: 5 },
  };
  const color = { value: COMPONENT_COLOURS[component] };
  return {
    ...framed(frame, HEIGHT),
    layer: [
      {
        data: { values: PLACES.map(({ place, right }) => ({ place, at: right })) },
        mark: { type: 'tick', thickness: 2, size: 22 },
        encoding: { x, y, color: { value: INK } },
      },
      {
        data: { values: rows },
        mark: { type: 'rule', strokeWidth: 2 },
        encoding: { x: { field: 'low', type: 'quantitative' }, x2: { field: 'high' }, y, color },
      },
      {
        data: { values: rows },
        mark: { type: 'point', filled: true, size: 60, opacity: 1 },
        encoding: { x, y, color },
      },
      {
        data: { values: unsaid },
        mark: { type: 'text', align: 'left', dx: 4, fontSize: 11, color: INK_SOFT },
        encoding: { x: { datum: 0.15 }, y, text: { field: 'words' } },
      },
    ],
  };
}
