import type { ForecastComponent, Indicator } from '../model/words.ts';

/** Indicators that are medians of a day's cranks; the other two are counts over a week's. */
export const MEDIAN_INDICATORS = [
  'log_sag_ratio',
  'rest_volts',
  'crank_volts',
  'crank_rpm',
  'crank_seconds',
  'battery_ohms',
  'loop_ohms',
] as const satisfies readonly Indicator[];
export type MedianIndicator = (typeof MEDIAN_INDICATORS)[number];

/** Which indicators speak of which component. The sag ratio speaks of both: it rises with a worn battery, falls with a worn starter loop. */
export const COMPONENT_INDICATORS: Record<ForecastComponent, readonly Indicator[]> = {
  battery: ['log_sag_ratio', 'rest_volts', 'crank_volts', 'battery_ohms'],
  starter: ['crank_rpm', 'crank_seconds', 'dropouts_per_100', 'retries_per_100', 'loop_ohms', 'log_sag_ratio'],
};

export function isMedianIndicator(indicator: Indicator): indicator is MedianIndicator {
  return (MEDIAN_INDICATORS as readonly Indicator[]).includes(indicator);
}
