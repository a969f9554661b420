/** A trend in a sentence: where it stands, how fast it moves, with interval, p-value and number of days. */
import type { UnitTrend } from '../../api/contract/unit.ts';
import { change, count, counted, date, pValue, quantity } from '../format.ts';
import { INDICATOR_WORDS, STANDING_WORDS } from '../words.ts';

export function trendSentence(trend: UnitTrend): string {
  const { level, slopePerYear, slopeLow, slopeHigh } = trend;
  if (level === null || slopePerYear === null)
    return `No trend: ${STANDING_WORDS[trend.standing] ?? trend.standing}${daysWithValue(trend.n)}.`;
  const { logarithm, unit, decimals, scale } = INDICATOR_WORDS[trend.indicator];
  const shown = logarithm ? Math.exp(level) : level * scale;
  const moves = (slope: number | null) =>
    logarithm ? change(percentOf(slope), 0) : change(slope === null ? null : slope * scale, decimals);
  const measure = logarithm ? '\u00a0%' : unit === '' ? '' : `\u00a0${unit}`;
  const since = trend.sinceOn === null ? '' : ` since ${date(trend.sinceOn)}`;
  const slope = `${moves(slopePerYear)}${measure} a year`;
  const interval = `95 % interval ${moves(slopeLow)} to ${moves(slopeHigh)}${measure}, p ${pValue(trend.pValue)}`;
  return `Now ${quantity(shown, unit, decimals)}; ${slope} (${interval}); ${count(trend.n)} days${since}.`;
}

/** A slope of the logarithm → percent of the value itself, a year. */
function percentOf(slope: number | null): number | null {
  return slope === null ? null : (Math.exp(slope) - 1) * 100;
}

function daysWithValue(days: number): string {
  return days === 0 ? '' : `; ${counted(days, 'day has', 'days have')} a value`;
}
