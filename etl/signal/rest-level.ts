import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { windowMedian, windowNoise, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
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
  const from = indexAt(recording, recording.timeUs[Math.max(0, end - 1)]! - T.restSeconds * 1e6);
  const count = end - from;
  const volts = count > 0 ? windowMedian(recording.volts, from, end) : recording.volts[end]!;
  const noiseVolts = count > 2 ? windowNoise(recording.volts, from, end, volts) : 0;
  const step = windowStep(recording.volts, from, end);
  const seconds = count > 0 ? secondsBetween(recording, from, end - 1) + stepSeconds : 0;
  return {
    volts,
    noiseVolts,
    stepVolts: step,
    fallVolts: volts - leastFall(noiseVolts, step),
    reportable: seconds >= T.restLeastSeconds - 1e-9,
  };
}

/** The level of the last moments only: a bank may still be recovering from a heater. */
export function restJustBefore(trace: Trace, end: number, rest = restBefore(trace, end)): RestLevel {
  const { volts, timeUs } = trace.recording;
  const from = Math.max(0, Math.min(end - 4, indexAt(trace.recording, timeUs[end]! - P.requestRestSeconds * 1e6)));
  if (end - from < 3) return rest;
  const level = windowMedian(volts, from, end);
  const noiseVolts = Math.min(rest.noiseVolts, windowNoise(volts, from, end, level));
  return { ...rest, volts: level, noiseVolts, fallVolts: level - leastFall(noiseVolts, rest.stepVolts) };
}

/** How far one sample lies under rest that is no noise of `noiseVolts` and no flicker of the sensor's step; of a mean, less. */
export function leastFall(noiseVolts: number, stepVolts: number): number {
  return Math.max(T.fallVolts, T.fallNoises * noiseVolts, T.fallSteps * Math.min(stepVolts, T.fallVolts));
}
