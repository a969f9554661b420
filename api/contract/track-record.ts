import { Type, type Static } from 'typebox';
import { BASELINES, FORECAST_ENDS, FORECASTERS } from '../../etl/model/backtest.ts';
import { FORECAST_COMPONENTS } from '../../etl/model/words.ts';
import { date, nullable, number, probability, store, text } from './scalars.ts';

/** Did the forecasts come true? The newest backtest, its scores and its forecasts beside what happened. */
const count = Type.Integer({ minimum: 0 });
const component = Type.Enum([...FORECAST_COMPONENTS]);

/** A figure with its 95 % interval by bootstrap over units. */
export const Estimate = Type.Object({ value: number, low: nullable(number), high: nullable(number) });
const estimate = nullable(Estimate);

export const ForecasterScores = Type.Object({
  forecaster: Type.Enum([...FORECASTERS]),
  harrellC: estimate,
  unoC: estimate,
  auc: estimate,
  brier: estimate,
  skill: estimate,
  recallTop5: estimate,
  recallTop10: estimate,
});

export const CalibrationScores = Type.Object({
  judgeable: Type.Boolean({ description: 'false under about 100 failures: the figures have no weight' }),
  observed: number,
  expected: number,
  ratio: estimate,
  slope: estimate,
  intercept: estimate,
  groups: Type.Array(Type.Object({ forecasts: count, forecast: probability, observed: Estimate })),
  dCalibration: nullable(
    Type.Object({ parts: count, bins: Type.Array(number), chiSquare: number, pValue: probability }),
  ),
});

export const WindowScores = Type.Object({
  before: estimate,
  inside: estimate,
  after: estimate,
  atBeginning: count,
  atEnd: count,
  intervalScoreDays: nullable(number),
  intervalFailures: count,
});

export const PullScores = Type.Object({
  calledAt: probability,
  hits: count,
  misses: count,
  needless: count,
  open: count,
  leadDaysMedian: nullable(number),
  leadDaysLow: nullable(number),
  leadDaysHigh: nullable(number),
  leadFortnight: nullable(probability),
  needlessPer100UnitMonths: nullable(number),
});

export const ComponentScores = Type.Object({
  component,
  forecasts: count,
  units: count,
  parts: count,
  failures: count,
  failedForecasts: count,
  failedShare: nullable(probability),
  plannedShare: nullable(probability),
  forecasters: Type.Array(ForecasterScores),
  margins: Type.Array(Type.Object({ against: Type.Enum([...BASELINES]), unoC: estimate, skill: estimate })),
  calibration: CalibrationScores,
  window: WindowScores,
  pulls: PullScores,
  wrongLabels: Type.Array(
    Type.Object({
      share: probability,
      unoC: nullable(number),
      auc: nullable(number),
      skill: nullable(number),
      ratio: nullable(number),
      slope: nullable(number),
    }),
  ),
  verdict: Type.Array(text),
});
export type ComponentScores = Static<typeof ComponentScores>;

export const PullMonth = Type.Object({
  month: Type.String({ description: 'YYYY-MM' }),
  component,
  hits: count,
  misses: count,
  needless: count,
  open: count,
});
export type PullMonth = Static<typeof PullMonth>;

export const TrackedForecast = Type.Object({
  asOfOn: date,
  unit: text,
  position: text,
  depot: text,
  class: text,
  component,
  pFail: probability,
  windowEarlyOn: nullable(date),
  windowMidOn: nullable(date),
  windowLateOn: nullable(date),
  failedWithin: nullable(Type.Boolean()),
  failedOn: nullable(date),
  end: Type.Enum([...FORECAST_ENDS]),
  followedToOn: date,
});
export type TrackedForecast = Static<typeof TrackedForecast>;

export const TrackRecord = Type.Object({
  /** `not_walked`: loaded, but no backtest was run. */
  state: Type.Enum(['ready', 'no_data', 'not_walked']),
  store,
  /** Words to add to a command so that it works on the store that is served; empty for the default one. */
  storeOption: text,
  /** Data have been loaded since the backtest. */
  stale: Type.Boolean(),
  plan: nullable(Type.Object({ fromOn: date, toOn: date, stepDays: count, horizonDays: count })),
  origins: Type.Array(date),
  followedToOn: nullable(date),
  entryDelayDays: count,
  refused: count,
  gone: count,
  unplaced: count,
  /** What the scores are of: the whole backtest, the part that the filters let through, or none for its size. */
  scope: Type.Enum(['whole', 'part', 'too_large']),
  scores: Type.Array(ComponentScores),
  months: Type.Array(PullMonth),
  depots: Type.Array(text),
  classes: Type.Array(text),
  /** Those that the filter lets through, the newest origin and the likeliest failure first; one page of them. */
  forecasts: Type.Array(TrackedForecast),
  forecastsInAll: count,
});
export type TrackRecord = Static<typeof TrackRecord>;

export const TrackRecordQuery = Type.Object(
  {
    component: Type.Optional(component),
    depot: Type.Optional(Type.String({ maxLength: 200 })),
    class: Type.Optional(Type.String({ maxLength: 200 })),
    from: Type.Optional(Type.String({ format: 'date', description: 'first day of forecasts, included' })),
    to: Type.Optional(Type.String({ format: 'date', description: 'last day of forecasts, included' })),
    outcome: Type.Optional(
      Type.Enum(['failed', 'lived', 'open'], {
        description: 'failed within the horizon, did not, or not followed so far',
      }),
    ),
    format: Type.Optional(Type.Enum(['json', 'csv'], { description: 'csv: all that the filter lets through' })),
    offset: Type.Optional(Type.Integer({ minimum: 0, default: 0 })),
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 5000, default: 200 })),
  },
  { additionalProperties: false },
);
export type TrackRecordQuery = Static<typeof TrackRecordQuery>;
