import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { THRESHOLDS } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** The level before a fall, and what counts as a fall from it. */
export type RestLevel = {
  volts: number;
  noiseVolts: number;
  /** Step of the sensor as far as the rest level shows it, V; 0 if it never moved. */
  stepVolts: number;
  /** A sample lower than this has left the noise. */
  fallVolts: number;
  /** At least 0.1 s of samples stand behind it: it may be reported. */
  reportable: boolean;
};

/** Median and noise of up to 1 s that ends before sample `end`. */
export function restBefore(trace: Trace, end: number): RestLevel {
  const { recording, stepSeconds } = trace;
  const from = indexAt(recording, recording.timeUs[Math.max(0, end - 1)]! - THRESHOLDS.restSeconds * 1e6);
  const count = end - from;
  const volts = count > 0 ? windowMedian(recording.volts, from, end) : recording.volts[end]!;
  const noiseVolts = count > 2 ? windowNoise(recording.volts, from, end, volts) : 0;
  const step = windowStep(recording.volts, from, end);
  const least = THRESHOLDS.fallVolts;
  const fall = Math.max(least, THRESHOLDS.fallNoises * noiseVolts, 1.5 * Math.min(step, least));
  const seconds = count > 0 ? secondsBetween(recording, from, end - 1) + stepSeconds : 0;
  return {
    volts,
    noiseVolts,
    stepVolts: step,
    fallVolts: volts - fall,
    reportable: seconds >= THRESHOLDS.restLeastSeconds - 1e-9,
  };
}
