/**
 * The columns of the hazard: what a part's indicators, its age and its season say on a day.
 *
 * Distances from the class's usual level in the class's own spread, wear up, drawn in by the inverse hyperbolic sine: the
 * way from 5 to 10 spreads says little more than that from 2 to 4. Starter and battery read each other's indicators too:
 * what a worn battery does to the speed must not pass for a worn starter. A value that is not known is NaN, never 0.
 */
import type { ForecastComponent, Indicator } from '../model/words.ts';
import { WEAR, type EngineSeries, type UsualLevels } from './condition-index.ts';
import type { IndicatorSummary } from '../trends/indicator-summary.ts';
import type { Reading, Readings } from '../trends/recent-reading.ts';

/** One spread out of the usual is still ordinary; what lies beyond counts once more. Convention of this program. */
const ORDINARY = 1;
/** One absurd sensor must not decide alone. */
const MOST_DISTANCE = 8;

export const READING_PARTS = ['now', 'month', 'change', 'beyond'] as const;
export type ReadingPart = (typeof READING_PARTS)[number];
export type ConditionColumn = `${Indicator} ${ReadingPart}`;

/** Which way an indicator goes with wear; of one that speaks of the other component, with that one's. */
function signOf(component: ForecastComponent, indicator: Indicator): 1 | -1 {
  const other: ForecastComponent = component === 'battery' ? 'starter' : 'battery';
  return WEAR[component][indicator]?.sign ?? WEAR[other][indicator]?.sign ?? 1;
}

/** One reading an indicator, where there is any. */
export function readingsOf(
  { series }: Pick<EngineSeries, 'series'>,
  of: (summary: IndicatorSummary) => Reading | null,
): Readings {
  const readings: Readings = {};
  for (const [name, summary] of Object.entries(series)) {
    const reading = of(summary);
    if (reading !== null) readings[name as Indicator] = reading;
  }
  return readings;
}

export type Placed = { component: ForecastComponent; class: string; usual: UsualLevels };

export function conditionColumns(readings: Readings, { component, class: name, usual }: Placed) {
  const columns: Partial<Record<ConditionColumn, number>> = {};
  for (const [key, { fortnight, month, before }] of Object.entries(readings)) {
    const indicator = key as Indicator;
    const ordinary = usual[name]?.[indicator];
    if (ordinary === undefined) continue;
    const sign = signOf(component, indicator);
    const distance = (value: number) =>
      Math.max(-MOST_DISTANCE, Math.min(MOST_DISTANCE, (sign * (value - ordinary.level)) / ordinary.spread));
    columns[`${indicator} now`] = Math.asinh(distance(fortnight));
    columns[`${indicator} month`] = Math.asinh(distance(month));
    columns[`${indicator} change`] = Math.asinh(distance(month) - distance(before));
    columns[`${indicator} beyond`] = Math.max(0, distance(fortnight) - ORDINARY);
  }
  return columns;
}

/** The indicator that a column speaks of; null for one that speaks of none. */
export function indicatorOf(column: string): Indicator | null {
  const [indicator, part] = column.split(' ');
  return (READING_PARTS as readonly string[]).includes(part ?? '') ? (indicator as Indicator) : null;
}

const YEAR_DAYS = 365.25;

export function seasonAt(day: number): { sine: number; cosine: number } {
  const turn = (2 * Math.PI * day) / YEAR_DAYS;
  return { sine: Math.sin(turn), cosine: Math.cos(turn) };
}
