/** The chance that a part still works, from the as-of day on: one curve for each component with an outlook. */
import type { PartSince, UnitOutlook } from '../../api/contract/unit.ts';
import { AXIS_NUMBER, shortDate } from '../format.ts';
import { COMPONENT_WORDS, LIFE_END_WORDS, type ForecastComponent } from '../words.ts';
import { AT, dateMs, dayMs, framed, timeAxis, type Frame, type Spec } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK, INK_SOFT } from './colours.ts';

export type SurvivalContext = {
  asOfOn: string;
  nextVisitOn: string | null;
  /** Parts that have gone since, where the as-of day lies in the past. */
  ended?: readonly PartSince[];
};

const HEIGHT = 190;
/** The axis ends where nearly all would have failed, at least a year ahead. */
const NEARLY_ALL = 0.05;
const LEAST_DAYS = 365;

export function survivalChart(outlooks: readonly UnitOutlook[], context: SurvivalContext, frame: Frame): Spec {
  const asOf = dateMs(context.asOfOn);
  const ended = context.ended ?? [];
  const days = Math.max(horizonDays(outlooks), ...ended.map((each) => each.days));
  const x = AT;
  const domain = { from: asOf, to: asOf + dayMs(days) };
  const y = {
    field: 'alive',
    type: 'quantitative' as const,
    title: null,
    scale: { domain: [0, 1] },
    axis: { format: AXIS_NUMBER.percent, values: [0, 0.1, 0.5, 0.9, 1], labelOverlap: false },
  };
  const components: readonly ForecastComponent[] = ['battery', 'starter'];
  const color = {
    field: 'component',
    type: 'nominal' as const,
    legend: null,
    scale: { domain: components, range: components.map((each) => COMPONENT_COLOURS[each]) },
  };
  const visits = context.nextVisitOn === null ? [] : [{ at: dateMs(context.nextVisitOn), words: 'next visit' }];
  return {
    ...framed(frame, HEIGHT),
    layer: [
      {
        data: { values: curveRows(outlooks, asOf, days) },
        mark: { type: 'line', strokeWidth: 2, clip: true },
        encoding: { x: timeAxis(domain), y, color },
      },
      {
        data: { values: labelRows(outlooks, asOf, days) },
        mark: { type: 'text', align: 'left', dx: 6, dy: -6, fontSize: 12 },
        encoding: { x, y, color, text: { field: 'word' } },
      },
      { data: { values: visits }, mark: { type: 'rule', color: INK, strokeDash: [2, 2], clip: true }, encoding: { x } },
      {
        data: { values: visits },
        mark: { type: 'text', color: INK_SOFT, align: 'left', dx: 4, fontSize: 11, clip: true },
        encoding: { x, y: { value: HEIGHT - 8 }, text: { field: 'words' } },
      },
      {
        data: { values: endRows(ended) },
        mark: { type: 'rule', strokeWidth: 2, clip: true },
        encoding: { x, color },
      },
      {
        data: { values: endRows(ended) },
        mark: { type: 'text', align: 'left', dx: 4, fontSize: 11, clip: true },
        encoding: { x, y: { value: 8 }, color, text: { field: 'words' } },
      },
    ],
  };
}

function horizonDays(outlooks: readonly UnitOutlook[]): number {
  const ends = outlooks.map((outlook) => {
    const index = outlook.survival.findIndex((alive) => alive < NEARLY_ALL);
    return outlook.survivalDays[index === -1 ? outlook.survivalDays.length - 1 : index] ?? 0;
  });
  return Math.max(LEAST_DAYS, ...ends);
}

function curveRows(outlooks: readonly UnitOutlook[], asOf: number, days: number) {
  return outlooks.flatMap((outlook) =>
    outlook.survivalDays.flatMap((day, index) =>
      day > days ? [] : [{ at: asOf + dayMs(day), alive: outlook.survival[index]!, component: outlook.component }],
    ),
  );
}

/** Each curve's name stands where the curves have come apart: battery high up, starter further down. */
function labelRows(outlooks: readonly UnitOutlook[], asOf: number, days: number) {
  return outlooks.flatMap((outlook) => {
    const level = outlook.component === 'battery' ? 0.75 : 0.35;
    const found = outlook.survival.findIndex((alive) => alive <= level);
    const inside = outlook.survivalDays.findLastIndex((day) => day <= days * 0.8);
    const index = found === -1 ? inside : Math.min(found, inside);
    const day = outlook.survivalDays[index];
    if (day === undefined) return [];
    return [
      {
        at: asOf + dayMs(day),
        alive: outlook.survival[index]!,
        component: outlook.component,
        word: COMPONENT_WORDS[outlook.component],
      },
    ];
  });
}

/** The day on which a part truly went, to be read against its curve. */
function endRows(ended: readonly PartSince[]) {
  return ended.map(({ component, end, on }) => ({
    at: dateMs(on),
    component,
    words: `${end === 'failure' ? LIFE_END_WORDS.failure : LIFE_END_WORDS.planned} ${shortDate(on)}`,
  }));
}
