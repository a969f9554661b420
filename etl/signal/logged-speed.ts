import type { Recording } from '../model/samples.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';

type Rolling = { onset: number; rollingFrom: number; rollingTo: number };

/**
 * Mean logged engine speed over the rolling phase, rpm. A controller reports late; one that cannot measure yet reports a
 * default that does not move: the value the speed first jumps to is left out as long as it stands still, and so is zero.
 * Of a slow log that shows too little of the rolling phase, all from the onset on is taken. NaN with fewer than three
 * different readings left, and where the engine stood for much of the time since it first turned.
 */
export function loggedCrankRpm(recording: Recording, { onset, rollingFrom, rollingTo }: Rolling): number {
  if (recording.rpm === null) return Number.NaN;
  const lateUs = recording.timeUs[rollingFrom]! + T.loggedLateSeconds * 1e6;
  const rolling = meanReading(recording.rpm, indexAt(recording, lateUs, rollingFrom), rollingTo);
  return Number.isNaN(rolling) ? meanReading(recording.rpm, onset, rollingTo) : rolling;
}

function meanReading(rpm: Float64Array, from: number, to: number): number {
  const seen = new Set<number>();
  let first = Number.NaN;
  let sum = 0;
  let count = 0;
  let stood = 0;
  for (let i = from; i < to; i++) {
    const value = rpm[i]!;
    if (!Number.isNaN(first) && value < T.crankLeastRpm / 2) stood++;
    if (!(value >= T.crankLeastRpm / 2 && value <= T.runningRpm)) continue;
    if (Number.isNaN(first)) first = value;
    if (value === first) continue;
    seen.add(value);
    sum += value;
    count++;
  }
  return seen.size >= 3 && stood <= T.loggedStoodShare * count ? sum / count : Number.NaN;
}
