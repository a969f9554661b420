/** One crank's voltage over another's, both from onset: what changed is what lies between the lines. */
import type { Waveform } from '../../api/contract/unit.ts';
import { AXIS_NUMBER } from '../format.ts';
import { framed, type Frame, type Spec } from './chart-frame.ts';
import { INK, INK_SOFT } from './colours.ts';
import { MOST_POINTS, thinKeepingExtremes } from './thin.ts';

const HEIGHT = 260;
/** Shown before onset, s: the rest level and the solenoid's own small step. */
const LEAD_SECONDS = 0.5;
/** Shown after onset at most, s: the release and the first of the charging. */
const MOST_SECONDS = 12;

export function waveformChart(newest: Waveform, early: Waveform | null, frame: Frame): Spec {
  const shown = early === null ? [newest] : [early, newest];
  const end = Math.min(MOST_SECONDS, Math.max(...shown.map((each) => each.seconds.at(-1) ?? 0)));
  const x = {
    field: 'seconds',
    type: 'quantitative' as const,
    title: 'seconds from onset',
    scale: { domain: [-LEAD_SECONDS, end], nice: false as const },
    axis: { tickCount: 8, grid: true },
  };
  const y = {
    field: 'volts',
    type: 'quantitative' as const,
    title: null,
    scale: { zero: false },
    axis: { format: AXIS_NUMBER.plain, tickCount: 6 },
  };
  const curve = (waveform: Waveform, color: string, strokeWidth: number) => ({
    data: { values: curveRows(waveform, end) },
    mark: { type: 'line' as const, color, strokeWidth, clip: true },
    encoding: { x, y },
  });
  return {
    ...framed(frame, HEIGHT),
    layer: [...(early === null ? [] : [curve(early, INK_SOFT, 1)]), curve(newest, INK, 1.6)],
  };
}

function curveRows({ seconds, volts }: Waveform, end: number): { seconds: number; volts: number }[] {
  const inside = seconds.flatMap((at, index) => (at >= -LEAD_SECONDS && at <= end ? [index] : []));
  const values = inside.map((index) => volts[index]!);
  return thinKeepingExtremes(values, MOST_POINTS / 2).map((kept) => ({
    seconds: seconds[inside[kept]!]!,
    volts: values[kept]!,
  }));
}
