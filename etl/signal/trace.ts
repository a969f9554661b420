import type { Recording } from '../model/samples.ts';
import { sampleSeconds } from './time-window.ts';
import { THRESHOLDS } from './thresholds.ts';
import { windowHigh } from './sorted-window.ts';

/** A recording with what every step of reading it needs to know. */
export type Trace = {
  recording: Recording;
  /** 1 for a 12 V system, 2 for 24 V: told by the record's own level, since the register may come later. */
  system: 1 | 2;
  /** Median interval between samples, s. */
  stepSeconds: number;
  rateHz: number;
};

export function traceOf(recording: Recording): Trace {
  const stepSeconds = sampleSeconds(recording, recording.count >> 1);
  const high = windowHigh(recording.volts, 0, recording.count);
  const system = high > THRESHOLDS.system24Volts ? 2 : 1;
  return { recording, system, stepSeconds, rateHz: 1 / stepSeconds };
}
