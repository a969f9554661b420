import type { ForecastComponent } from './words.ts';

/** Which origins a backtest walks, and how far each forecast is followed. Dates `YYYY-MM-DD`. */
export type BacktestPlan = { fromOn: string; toOn: string; stepDays: number; horizonDays: number };

/** What anyone could do without this program: the forecast has to beat these. */
export const BASELINES = ['base_rate', 'age_only', 'voltage_threshold', 'last_value'] as const;
export type Baseline = (typeof BASELINES)[number];
export const FORECASTERS = ['outlook', ...BASELINES] as const;
export type Forecaster = (typeof FORECASTERS)[number];

/**
 * How a part's time went on after a forecast. `gone`: it had failed or been replaced by the as-of day, but that became
 * known only later; nothing is scored.
 */
export const FORECAST_ENDS = ['failure', 'planned', 'in_service', 'gone'] as const;
export type ForecastEnd = (typeof FORECAST_ENDS)[number];

/** One forecast of the past beside what then happened. */
export type BacktestForecast = {
  asOfOn: string;
  unit: string;
  position: string;
  component: ForecastComponent;
  /** The day from which the part was watched: with unit, position and component it names the part. */
  partSinceOn: string;
  /** Probability of failing within the horizon. */
  pFail: number;
  windowEarlyOn: string | null;
  windowMidOn: string | null;
  windowLateOn: string | null;
  /** null: not followed to the horizon. */
  failedWithin: boolean | null;
  /** The day it failed, as the records have it, within the horizon or after. */
  failedOn: string | null;
  end: ForecastEnd;
  /** The last day of it that is known: its failure, its replacement, or the end of what is known. */
  followedToOn: string;
  /** Probability of having failed by then, as forecast, and by age alone. */
  pFailByEnd: number;
  pFailByEndOfAge: number;
  /** What the baselines gave: probabilities, whether the voltage stood below the threshold, how bad the last value was. */
  baseRate: number;
  ageOnly: number;
  belowThreshold: boolean;
  /** Higher is worse; null without a recent reading. */
  lastValue: number | null;
};

/** A figure with its 95 % interval; the interval is null where too few draws gave an answer. */
export type Estimate = { value: number; low: number | null; high: number | null };

export type ForecasterScores = {
  forecaster: Forecaster;
  harrellC: Estimate | null;
  unoC: Estimate | null;
  auc: Estimate | null;
  /** null for what gives an order and no probability. */
  brier: Estimate | null;
  /** 1 − Brier / Brier of the base rate. */
  skill: Estimate | null;
  recallTop5: Estimate | null;
  recallTop10: Estimate | null;
};

/** Forecast minus baseline over the same draws: what lies on one side of 0 is told apart. */
export type Margin = { against: Baseline; unoC: Estimate | null; skill: Estimate | null };

export type CalibrationScores = {
  /** Under about a hundred failures calibration cannot be judged; the figures stand, without weight. */
  judgeable: boolean;
  observed: number;
  expected: number;
  ratio: Estimate | null;
  slope: Estimate | null;
  intercept: Estimate | null;
  groups: { forecasts: number; forecast: number; observed: Estimate }[];
  /** Each part once, at its first forecast. */
  dCalibration: { parts: number; bins: number[]; chiSquare: number; pValue: number } | null;
};

export type WindowScores = {
  /** Share of failures before, inside and after the window; 0.1, 0.8, 0.1 would be right. */
  before: Estimate | null;
  inside: Estimate | null;
  after: Estimate | null;
  /** Forecasts followed as far as the window's beginning and end. */
  atBeginning: number;
  atEnd: number;
  /** Mean over failures with both ends known, days; smaller is better. */
  intervalScoreDays: number | null;
  intervalFailures: number;
};

export type PullScores = {
  /** A part is pulled the first time its probability reaches this. */
  calledAt: number;
  hits: number;
  misses: number;
  needless: number;
  open: number;
  /** Days between call and failure, over hits. */
  leadDaysMedian: number | null;
  leadDaysLow: number | null;
  leadDaysHigh: number | null;
  /** Share of hits with a fortnight or more. */
  leadFortnight: number | null;
  needlessPer100UnitMonths: number | null;
};

export type WrongLabels = {
  share: number;
  unoC: number | null;
  auc: number | null;
  skill: number | null;
  ratio: number | null;
  slope: number | null;
};

export type ComponentScores = {
  component: ForecastComponent;
  forecasts: number;
  units: number;
  parts: number;
  /** Parts that failed within a horizon of a forecast, and the forecasts which that makes true. */
  failures: number;
  failedForecasts: number;
  /** Share failed and share replaced as planned by the horizon (Aalen–Johansen). */
  failedShare: number | null;
  plannedShare: number | null;
  forecasters: ForecasterScores[];
  margins: Margin[];
  calibration: CalibrationScores;
  window: WindowScores;
  pulls: PullScores;
  wrongLabels: WrongLabels[];
  /** In words: who does better, and what cannot be judged. */
  verdict: string[];
};

/** Hits and needless pulls by the month of the pull, misses by the month of the failure. */
export type PullMonth = {
  month: string;
  component: ForecastComponent;
  hits: number;
  misses: number;
  needless: number;
  open: number;
};

export type BacktestSummary = {
  plan: BacktestPlan;
  origins: string[];
  /** What happened is known up to here: the newest record less the time that records take to be entered. */
  followedToOn: string;
  entryDelayDays: number;
  /** Components without a forecast at an origin, forecasts of parts already gone, and of parts found in no life. */
  refused: number;
  gone: number;
  unplaced: number;
  scores: ComponentScores[];
  months: PullMonth[];
};
export type Backtest = BacktestSummary & { forecasts: BacktestForecast[] };
