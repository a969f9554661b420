/**
 * What trends and outlooks read of one indicator of one engine: a hundred numbers for its thousand days.
 *
 * For: a fleet's daily values would fill the memory; these are made engine by engine, and the days forgotten.
 */
import { median, medianAbsoluteDeviation, NORMAL_SD_PER_MAD } from '../stats/quantile.ts';
import type { CorrectedSeries } from './correction.ts';
import { newestWeeksOn, type NewestWeeks } from './newest-weeks.ts';
import { READING_WEEKS, readingOn, type Look, type Reading } from './recent-reading.ts';
import { driftOf, type Drift } from './trend-of.ts';
import { weeklyMedians, type Weekly } from './weekly-medians.ts';

/** Noise from week to week would pass for diffusion: condition is followed in steps of three weeks. */
export const INDEX_DAYS = 21;
/** Fewer days say nothing of what is usual. Convention of this program. */
const LEAST_DAYS = 20;

export type IndicatorSummary = {
  /** Three-weekly medians of the whole record. */
  threeWeekly: Weekly;
  /** The newest weekly medians: what a reading of today asks for. */
  recent: Weekly;
  /** What was to be read on each of the days that were asked for, by then; null where nothing recent was there. */
  readings: (Reading | null)[];
  /** The newest three weeks as they stood on each of those days, and as they stand now. */
  newestOn: (NewestWeeks | null)[];
  newest: NewestWeeks | null;
  /** Median and scatter (sd) of the weekly medians of the whole record; null for too few days. */
  usual: { level: number; noise: number } | null;
  /** Of the parts that are fitted now, whether or not the logger is silent. */
  drift: Drift;
  /** A temperature was known for most days, own or the fleet's. */
  hasTemperature: boolean;
};

/** `fromDay`: since when the indicator speaks of the parts that are fitted now; `looks`: days to be read on. */
export function summaryOf(series: CorrectedSeries, fromDay: number, looks: readonly Look[] = []): IndicatorSummary {
  const { day, corrected, hasTemperature } = series;
  const weekly = weeklyMedians(day, corrected);
  return {
    threeWeekly: weeklyMedians(day, corrected, INDEX_DAYS),
    recent: { day: weekly.day.slice(-READING_WEEKS), value: weekly.value.slice(-READING_WEEKS) },
    readings: looks.map((look) => readingOn(weekly, look)),
    newestOn: looks.map((look) => newestWeeksOn(day, corrected, look)),
    newest: newestWeeksOn(day, corrected, { fromDay: -Infinity, onDay: Infinity }),
    usual: day.length < LEAST_DAYS ? null : usualOf(weekly.value),
    drift: driftOf(series, fromDay, null),
    hasTemperature,
  };
}

function usualOf(weeks: Float64Array): IndicatorSummary['usual'] {
  return { level: median(weeks), noise: NORMAL_SD_PER_MAD * medianAbsoluteDeviation(weeks) };
}
