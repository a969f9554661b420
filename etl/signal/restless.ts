/**
 * Whether a stretch under load is restless, as a turning engine makes it, or smooth, as a heater, a blower or a row of
 * lamps does: those settle along a curve. Told by second differences of means of 30 ms (single samples where the rate is
 * lower), which no straight or gently bent line has; works at rates too low for ripple.
 *
 * @example // 10.7 10.5 10.8 11.1 11.1 11.2 V at 10 Hz: restless; 11.0 11.1 11.2 11.2 11.3 11.3 V: not
 */
import type { RestLevel } from './rest-level.ts';
import { windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';
import { windowMean } from './window-mean.ts';

const FEWEST_MEANS = 4;

/** True also where samples [from, to) are too few to say: shorter than any heater. */
export function isRestless(
  trace: Trace,
  { from, to, rest }: { from: number; to: number; rest: Pick<RestLevel, 'noiseVolts' | 'stepVolts'> },
): boolean {
  const { recording, system, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const first = indexAt(recording, timeUs[from]! + T.rollingLatestSeconds * 1e6, from);
  const perMean = Math.max(1, Math.round(T.restlessSeconds / stepSeconds));
  const means = Math.floor((to - first) / perMean);
  if (means < FEWEST_MEANS) return true;
  let squares = 0;
  let [before, last] = [windowMean(volts, first, perMean), windowMean(volts, first + perMean, perMean)];
  for (let k = 2; k < means; k++) {
    const now = windowMean(volts, first + k * perMean, perMean);
    squares += (now - 2 * last + before) ** 2;
    [before, last] = [last, now];
  }
  const rough = Math.sqrt(squares / (means - 2) / 6); // of independent noise: its own standard deviation
  // A rest level that never moved does not show the sensor's step; the stretch itself does.
  const rounding = T.roundingNoise * Math.max(rest.stepVolts, windowStep(volts, first, to));
  const noise = (T.rippleNoises * Math.max(rest.noiseVolts, rounding)) / Math.sqrt(perMean);
  return rough > Math.max(T.restlessVolts * system, noise);
}
