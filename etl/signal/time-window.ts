import type { Recording } from '../model/samples.ts';
import { US_PER_SECOND } from '../model/time.ts';
import { windowMedian } from './sorted-window.ts';

/** First index in [from, count) whose time is not before `us`; `count` if none. */
export function indexAt(recording: Recording, us: number, from = 0): number {
  let low = from;
  let high = recording.count;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (recording.timeUs[mid]! < us) low = mid + 1;
    else high = mid;
  }
  return low;
}

const INTERVALS = 255;
const intervals = new Float64Array(INTERVALS);

/** Median interval between samples around an index, seconds; NaN with one sample. Robust to jitter and gaps. */
export function sampleSeconds(recording: Recording, around: number): number {
  const last = recording.count - 1;
  const from = Math.max(0, Math.min(around - 128, last - INTERVALS));
  const to = Math.min(last, from + INTERVALS);
  for (let i = from; i < to; i++) intervals[i - from] = recording.timeUs[i + 1]! - recording.timeUs[i]!;
  return windowMedian(intervals, 0, to - from) / US_PER_SECOND;
}

/** Seconds from sample `from` to sample `to`. */
export function secondsBetween(recording: Recording, from: number, to: number): number {
  return (recording.timeUs[to]! - recording.timeUs[from]!) / US_PER_SECOND;
}
