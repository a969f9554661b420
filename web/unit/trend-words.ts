/** A trend in a sentence: where it stands, how fast it moves, with interval, p-value and number of days. */
import type { UnitTrend } from '../../api/contract/unit.ts';
import { change, count, counted, date, pValue, quantity } from '../format.ts';
import { INDICATOR_WORDS, STANDING_WORDS } from '../words.ts';

export function trendSentence(trend: UnitTrend): string {
  const { level, slopePerYear, slopeLow, slopeHigh } = trend;
  if (level === null || slopePerYear === null)
    return `No trend: ${STANDING_WORDS[trend.standing] ?? trend.standing}${daysWithValue(trend.n)}.`;
  const { logarithm, unit, decimals, scale } = INDICATOR_WORDS[trend.indicator];
  const moves = (slope: number | null) =>
    logarithm ? change(percentOf(slope), 0) : change(slope === null ? null : slope * scale, decimals);
  const measure = logarithm ? '\u00a0%' : unit === '' ? '' : `\u00a0${unit}`;
  const since = trend.sinceOn === null ? '' : ` since ${date(trend.sinceOn)}`;
  const slope = `${moves(slopePerYear)}${measure} a year`;
  const interval = `95 % interval ${moves(slopeLow)} to ${moves(slopeHigh)}${measure}, p ${pValue(trend.pValue)}`;
  return `Now ${indicatorValue(trend, level)}; ${slope} (${interval}); ${count(trend.n)} days${since}.`;
}

/** What the chart's triangles stand for; '' where no day lies beyond its axis. */
export function beyondSentence(trend: UnitTrend, beyond: readonly number[]): string {
  const [first] = beyond;
  if (first === undefined) return '';
  if (beyond.length === 1) return `One day lies beyond the axis: ${dayWords(trend, first)}.`;
  const stored = beyond.map((index) => trend.values[index]!);
  const [low, high] = [Math.min(...stored), Math.max(...stored)].map((value) => indicatorValue(trend, value));
  return `${count(beyond.length)} days lie beyond the axis, corrected or as logged: ${low} to ${high} corrected.`;
}

/** One day of an indicator: `12 Mar 2026: 12.41 V; 12.33 V as logged`. */
export function dayWords(trend: UnitTrend, index: number): string {
  const [corrected, raw] = [trend.values[index]!, trend.rawValues[index]!].map((value) => indicatorValue(trend, value));
  const on = date(new Date(trend.days[index]! * DAY_MS).toISOString().slice(0, 10));
  return corrected === raw ? `${on}: ${corrected}` : `${on}: ${corrected} corrected, ${raw} as logged`;
}

const DAY_MS = 86_400_000;

/** A stored value as it is read. */
function indicatorValue({ indicator }: UnitTrend, stored: number): string {
  const { logarithm, unit, decimals, scale } = INDICATOR_WORDS[indicator];
  return quantity(logarithm ? Math.exp(stored) : stored * scale, unit, decimals);
}

/** A slope of the logarithm → percent of the value itself, a year. */
function percentOf(slope: number | null): number | null {
  return slope === null ? null : (Math.exp(slope) - 1) * 100;
}

function daysWithValue(days: number): string {
  return days === 0 ? '' : `; ${counted(days, 'day has', 'days have')} a value`;
}
