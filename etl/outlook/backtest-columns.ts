import { BASELINES, type BacktestForecast, type Forecaster } from '../model/backtest.ts';
import { dayNumber } from '../model/time.ts';

/** Forecasts of one component as columns: what scores are computed on. One row a forecast that was followed for a day. */
export type BacktestColumns = {
  /** Days to failure or to the end of what is known. */
  time: Float64Array;
  event: Uint8Array;
  /** How each forecaster ranks the rows, higher sooner; 0 where it does not know. */
  score: Record<Forecaster, Float64Array>;
  /** Number of the origin. */
  origin: Int32Array;
  /** 1 failed within the horizon, 0 did not, 2 not followed so far. */
  within: Uint8Array;
  /** F(end) of the forecast. */
  u: Float64Array;
};

export function isScored({ end, asOfOn, followedToOn }: BacktestForecast): boolean {
  return end !== 'gone' && followedToOn > asOfOn;
}

export function columnsOf(forecasts: readonly BacktestForecast[]): BacktestColumns {
  const origins = [...new Set(forecasts.map(({ asOfOn }) => asOfOn))].sort();
  const column = (value: (forecast: BacktestForecast) => number) => Float64Array.from(forecasts, value);
  return {
    time: column(({ asOfOn, followedToOn }) => dayNumber(followedToOn) - dayNumber(asOfOn)),
    event: Uint8Array.from(forecasts, ({ failedOn }) => Number(failedOn !== null)),
    score: {
      outlook: column(({ pFail }) => pFail),
      base_rate: column((forecast) => forecast.baseRate),
      age_only: column(({ ageOnly }) => ageOnly),
      voltage_threshold: column(({ belowThreshold }) => Number(belowThreshold)),
      last_value: column(({ lastValue }) => lastValue ?? 0),
    },
    origin: Int32Array.from(forecasts, ({ asOfOn }) => origins.indexOf(asOfOn)),
    within: Uint8Array.from(forecasts, ({ failedWithin }) => (failedWithin === null ? 2 : Number(failedWithin))),
    u: column(({ pFailByEnd }) => pFailByEnd),
  };
}

/** The drawn rows, in their order, some of them several times. */
export function drawn(columns: BacktestColumns, rows: Int32Array): BacktestColumns {
  const floats = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  const bytes = (column: Uint8Array) => Uint8Array.from(rows, (row) => column[row]!);
  const score = { outlook: floats(columns.score.outlook) } as BacktestColumns['score'];
  for (const baseline of BASELINES) score[baseline] = floats(columns.score[baseline]);
  return {
    time: floats(columns.time),
    event: bytes(columns.event),
    score,
    origin: Int32Array.from(rows, (row) => columns.origin[row]!),
    within: bytes(columns.within),
    u: floats(columns.u),
  };
}
