/**
 * Where the voltage leaves its rest level. A fall beyond any noise shows in one sample; one as small as a solenoid's, on
 * a noisy or coarse sensor, only in the mean of some: of n samples it has 1/√n of the noise.
 *
 * @example // 25.6 V ± 0.04 V, from the 300th sample on 25.35 V ± 0.04 V: 300
 */
import { leastFall, type RestLevel } from './rest-level.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import type { Trace } from './trace.ts';
import { windowMean } from './window-mean.ts';

type Look = { at: number; lag: number };

/** Whether means around a fall from sample `at − lag` to sample `at` bear it out: cheap, before anything is known of rest. */
export function isFall({ recording, stepSeconds }: Trace, { at, lag }: Look): boolean {
  const { volts, count } = recording;
  const before = Math.min(meanSamples(stepSeconds), at - lag + 1);
  const after = Math.min(meanSamples(stepSeconds), count - at);
  return windowMean(volts, at - lag - before + 1, before) - windowMean(volts, at, after) >= T.lookMeanVolts;
}

/** First sample of the fall that is over at sample `at`; −1 if it is none. */
export function firstFall(trace: Trace, { at, lag }: Look, rest: RestLevel): number {
  const { volts } = trace.recording;
  let first = Math.max(1, at - lag);
  if (volts[at]! <= rest.fallVolts) {
    while (volts[first]! > rest.fallVolts) first++;
    return first;
  }
  const fall = meanFall(trace, at, rest);
  if (fall === 0) return -1;
  while (first < at && volts[first]! > rest.volts - fall / 2) first++;
  return first;
}

/** How far the mean of the samples from `at` on lies under rest; 0 where that may be noise. */
function meanFall({ recording, stepSeconds }: Trace, at: number, rest: RestLevel): number {
  const { volts, count } = recording;
  const samples = Math.min(meanSamples(stepSeconds), count - at);
  if (samples < 2) return 0;
  const fall = rest.volts - windowMean(volts, at, samples);
  return fall >= leastFall(rest.noiseVolts / Math.sqrt(samples), rest.stepVolts) ? fall : 0;
}

function meanSamples(stepSeconds: number): number {
  return Math.max(1, Math.round(T.fallMeanSeconds / stepSeconds));
}

/**
 * First sample of a plateau `depth` under rest whose fall was seen at sample `seen`: back to where it has left the noise,
 * since a winding's current takes some ms to rise.
 */
export function fallBegins(
  { recording }: Trace,
  { seen, depth }: { seen: number; depth: number },
  rest: RestLevel,
): number {
  const { volts } = recording;
  const least = Math.max(
    T.fallBeginsShare * depth,
    T.fallBeginsNoises * rest.noiseVolts,
    T.fallBeginsSteps * rest.stepVolts,
  );
  let at = seen;
  while (at > 1 && rest.volts - volts[at - 1]! >= least) at--;
  return at;
}
