/** The words of the track record: who forecasts, and what a figure with its interval reads like. */
import type { TrackedForecast, TrackRecord } from '../../api/contract/track-record.ts';
import { date, decimal, probability, UNKNOWN } from '../format.ts';

type Scores = TrackRecord['scores'][number];
export type Forecaster = Scores['forecasters'][number]['forecaster'];
export type Estimate = Scores['calibration']['ratio'];

export const FORECASTER_WORDS: Record<Forecaster, { name: string; meaning: string }> = {
  outlook: { name: 'This forecast', meaning: 'as this program gave it, or would have, on each of the days' },
  base_rate: { name: 'Base rate', meaning: 'the share of parts that failed so far, the same for every unit' },
  age_only: { name: 'Age alone', meaning: 'how long parts of the class last, nothing else known of the unit' },
  voltage_threshold: {
    name: 'Fixed voltage threshold',
    meaning: 'cranking voltage under 9.6 V at 12 V, 19.2 V at 24 V; an order, no probability',
  },
  last_value: {
    name: 'Last value',
    meaning: 'latest cranking voltage (battery) or speed (starter) against the class; an order, no probability',
  },
};

export const END_WORDS: Record<TrackedForecast['end'], string> = {
  failure: 'failed',
  planned: 'replaced as planned',
  in_service: 'in service',
  gone: 'already gone, entered later',
};

export function figure(estimate: Estimate, decimals = 2): string {
  if (estimate === null) return UNKNOWN;
  const { value, low, high } = estimate;
  const interval = low === null || high === null ? '' : ` (${decimal(low, decimals)} to ${decimal(high, decimals)})`;
  return `${decimal(value, decimals)}${interval}`;
}

export function share(estimate: Estimate): string {
  if (estimate === null) return UNKNOWN;
  const { value, low, high } = estimate;
  const interval = low === null || high === null ? '' : ` (${probability(low)} to ${probability(high)})`;
  return `${probability(value)}${interval}`;
}

/** What came of a forecast within its horizon. */
export function outcomeWords({ failedWithin, end }: Pick<TrackedForecast, 'failedWithin' | 'end'>): string {
  if (end === 'gone') return END_WORDS.gone;
  if (failedWithin === null) return 'not followed so far';
  return failedWithin ? 'failed' : 'did not fail';
}

/** How the part's time ended, as far as it is known. */
export function endWords({
  failedOn,
  end,
  followedToOn,
}: Pick<TrackedForecast, 'failedOn' | 'end' | 'followedToOn'>): string {
  return failedOn === null ? `${END_WORDS[end]}, ${date(followedToOn)}` : `failed ${date(failedOn)}`;
}
