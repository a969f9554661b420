import type { BacktestForecast } from '../../../etl/model/backtest.ts';
import { kaplanMeier } from '../../../etl/stats/kaplan-meier.ts';
import { dayOfDate } from '../calendar.ts';
import type { Notebook } from './notebook.ts';
import { lifeOn, placeKey, type TrueLife, type Truth } from './truth.ts';

export const SCORED = [
  'outlook',
  'age_only',
  'base_rate',
  'voltage',
  'last_value',
  'notebook',
  'worn',
  'perfect',
] as const;
export type Scored = (typeof SCORED)[number];

/** One forecast beside what truly happened. */
export type JudgedRow = {
  fleet: string;
  unit: string;
  component: string;
  origin: number;
  days: number;
  failed: boolean;
  cause: string;
  score: Record<Scored, number>;
  /** F of the forecast at the day on which the part was last seen. */
  u: number;
};

export const HORIZON = 90;

export type Judging = { fleet: string; truth: Truth; notebook: Notebook; lastDay: number };

export function judgedRows(forecasts: readonly BacktestForecast[], judging: Judging): JudgedRow[] {
  const lives = new Map<string, TrueLife[]>();
  for (const life of judging.truth.lives) lives.set(placeKey(life), [...(lives.get(placeKey(life)) ?? []), life]);
  const rows = forecasts.flatMap((forecast) => {
    const life = lifeOn(lives.get(placeKey(forecast)) ?? [], dayOfDate(forecast.asOfOn));
    return life === null ? [] : [judgedRow(forecast, life, judging)];
  });
  return rows.filter(({ days }) => days > 0);
}

function judgedRow(
  forecast: BacktestForecast,
  life: TrueLife,
  { fleet, truth, notebook, lastDay }: Judging,
): JudgedRow {
  const origin = dayOfDate(forecast.asOfOn);
  const chance = truth.chance(forecast, origin);
  const days = Math.min(life.removedDay, lastDay) - origin;
  return {
    fleet,
    unit: `${fleet}/${forecast.unit}`,
    component: forecast.component,
    origin,
    days,
    failed: life.end === 'failure' && life.removedDay <= lastDay,
    cause: life.cause,
    score: {
      outlook: forecast.pFail,
      age_only: forecast.ageOnly,
      base_rate: forecast.baseRate,
      voltage: Number(forecast.belowThreshold),
      last_value: forecast.lastValue ?? 0,
      notebook: notebook.chance(forecast, origin) ?? forecast.baseRate,
      worn: chance?.worn ?? Number.NaN,
      perfect: chance?.perfect ?? Number.NaN,
    },
    u: failedBy(forecast, origin, days),
  };
}

/** F between the points that the forecast gave, its cumulative hazard taken as straight between them. */
function failedBy(forecast: BacktestForecast, origin: number, days: number): number {
  const at = (on: string | null) => (on === null ? Infinity : dayOfDate(on) - origin);
  const knots = [
    [0, 0],
    [HORIZON, forecast.pFail],
    [at(forecast.windowEarlyOn), 0.1],
    [at(forecast.windowMidOn), 0.5],
    [at(forecast.windowLateOn), 0.9],
    [40 * 365, 0.9999],
  ] as [number, number][];
  const points = knots.filter(([day]) => day < Infinity).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  let left = points[0]!;
  for (const right of points) {
    if (days <= right[0] && right[0] > left[0]) {
      const [a, b] = [-Math.log(1 - left[1]), -Math.log(1 - Math.min(0.9999, right[1]))];
      return 1 - Math.exp(-(a + ((b - a) * (days - left[0])) / (right[0] - left[0])));
    }
    left = right;
  }
  return left[1];
}

/** The share of a fleet's rows that fails within the horizon: what a forecast that knew only this would say. */
export function shareFailing(rows: readonly JudgedRow[]): number {
  const curve = kaplanMeier({
    entry: new Float64Array(rows.length),
    exit: Float64Array.from(rows, ({ days }) => days),
    event: Uint8Array.from(rows, ({ failed }) => Number(failed)),
  });
  const last = curve.time.findLastIndex((days) => days <= HORIZON);
  return last < 0 ? 0 : 1 - curve.survival[last]!;
}
