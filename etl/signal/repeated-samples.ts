/**
 * A logger that asks faster than its source answers writes every value several times over: a voltage told ten times a
 * second, written forty times. Such a record knows no more than its source: dip and ripple of its own rate would be made
 * up. Told by the great changes of the voltage (an inrush, a release): each is followed by the very same value, as often
 * every time, which no sample of a moving voltage is.
 *
 * @example // 12.1 12.1 12.1 9.9 9.9 9.9 10.7 10.7 10.7 …, every 25 ms: samples 0, 3, 6, …, every 75 ms
 */
import type { Recording } from '../model/samples.ts';
import { median } from '../stats/quantile.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { sampleSeconds } from './time-window.ts';

/** What the source told, and where in the record each of its samples stands first. */
export type Told = { recording: Recording; at: Int32Array };

/** The record without what it repeats; null where it repeats nothing. */
export function withoutRepeats(recording: Recording): Told | null {
  const every = samplesEach(recording);
  return every === null ? null : thinned(recording, every);
}

/** Samples a value is written for; null where values are not repeated. */
function samplesEach({ volts, amps, count }: Recording): number | null {
  // Of a current that is logged as well the voltage's source says nothing.
  if (amps !== null) return null;
  const runs: number[] = [];
  let changes = 0;
  for (let i = 1; i < count && changes < T.repeatsLooked; i++) {
    if (Math.abs(volts[i]! - volts[i - 1]!) < T.repeatChangeVolts) continue;
    changes++;
    let end = i + 1;
    while (end < count && volts[end] === volts[i]) end++;
    // Of one that is cut off by the record's end nothing is known.
    if (end < count && end - i > 1) runs.push(end - i);
  }
  if (changes < T.repeatsLeast || runs.length < T.repeatedShare * changes) return null;
  const fewest = Math.min(...runs);
  // A value that the source told twice is written twice as often.
  const each = runs.map((run) => run / Math.round(run / fewest));
  return each.every((samples) => Math.abs(samples - fewest) <= 1) ? median(each) : null;
}

/** Keeps what is new, and of a value that stays one sample each time it was told again. */
function thinned(recording: Recording, every: number): Told | null {
  const { volts, timeUs, count } = recording;
  const stepSeconds = sampleSeconds(recording, count >> 1);
  if (every * stepSeconds > T.repeatLongestSeconds) return null;
  const againUs = (every - 0.5) * stepSeconds * 1e6;
  const kept: number[] = [0];
  for (let i = 1; i < count; i++) {
    const last = kept.at(-1)!;
    if (volts[i] !== volts[last] || timeUs[i]! - timeUs[last]! >= againUs) kept.push(i);
  }
  const at = Int32Array.from(kept);
  const of = (values: Float64Array) => Float64Array.from(at, (i) => values[i]!);
  const ofAny = (values: Float64Array | null) => (values === null ? null : of(values));
  return {
    at,
    recording: {
      ...recording,
      count: at.length,
      timeUs: of(timeUs),
      volts: of(volts),
      tempC: ofAny(recording.tempC),
      coolantC: ofAny(recording.coolantC),
      rpm: ofAny(recording.rpm),
      startRequest: ofAny(recording.startRequest),
      controlVolts: ofAny(recording.controlVolts),
      line: of(recording.line),
    },
  };
}
