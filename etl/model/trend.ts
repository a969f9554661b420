import type { Indicator, ForecastComponent } from './words.ts';

/** One indicator of one component on one engine, as of a day. */
export type Trend = {
  unit: string;
  position: string;
  component: ForecastComponent;
  indicator: Indicator;
  /** Level on the as-of day, corrected to the class's reference temperature. */
  level: number | null;
  /** Per year, in the indicator's unit, shrunk to the class; with its 95 % interval. */
  slopePerYear: number | null;
  slopeLow: number | null;
  slopeHigh: number | null;
  /** Theil–Sen slope per year: the assumption-free companion. */
  senSlopePerYear: number | null;
  /** Mann–Kendall, two-sided. */
  pValue: number | null;
  /** Days with a value. */
  n: number;
  sinceOn: string | null;
  /** Scatter of the corrected daily medians about the line, in the indicator's unit. */
  residual: number | null;
  /** `ok`, or why there is no trend: `too_few_points`, `logger_silent`, `parked`, `not_recorded`. */
  standing: TrendStanding;
};
export type TrendStanding = 'ok' | 'too_few_points' | 'logger_silent' | 'parked' | 'not_recorded';
