import type { Recording } from '../model/samples.ts';
import { THRESHOLDS as T } from './thresholds.ts';

/**
 * Mean logged engine speed over the rolling phase, rpm. A controller that cannot measure yet reports a default that
 * does not move: the value the speed first jumps to is left out as long as it stands still, and so is zero. NaN with
 * fewer than three different readings left.
 */
export function loggedCrankRpm(recording: Recording, from: number, to: number): number {
  const { rpm } = recording;
  if (rpm === null) return Number.NaN;
  const seen = new Set<number>();
  let first = Number.NaN;
  let sum = 0;
  let count = 0;
  for (let i = from; i < to; i++) {
    const value = rpm[i]!;
    if (!(value >= T.crankLeastRpm / 2 && value <= T.runningRpm)) continue;
    if (Number.isNaN(first)) first = value;
    if (value === first) continue;
    seen.add(value);
    sum += value;
    count++;
  }
  return seen.size >= 3 ? sum / count : Number.NaN;
}
