/**
 * Whether what draws the current turns an engine, told by single compressions: each makes the voltage fall and rise by
 * and by. A slow engine passes too few for a ripple, or stops at the first. A bank under a load that is no motor sinks
 * once, by little; loads that come and go fall and rise at once.
 *
 * @example // after the inrush 11.2, 10.8, 11.4, 11.0, 11.4 V over 1.5 s, smooth: passed. 11.2, 11.1, 11.1 V: not
 */
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { windowMedian, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { turnsOf, type Turn } from './turning-points.ts';
import { windowMean } from './window-mean.ts';

type Fall = { high: Turn; low: Turn };

export function passesCompressions(trace: Trace, phases: Phases, rest: RestLevel): boolean {
  const span = Math.max(1, Math.round(T.compressionSeconds / trace.stepSeconds));
  const falls = fallsOf(trace, phases, { span, rest }).filter((fall) => isGradual(trace, fall, span));
  const share = ({ high, low }: Fall) => (high.volts - low.volts) / (rest.volts - high.volts);
  return falls.length >= T.compressionsLeast || falls.some((fall) => share(fall) >= T.compressionStopsShare);
}

/** Falls after the inrush until the contacts open, the last of them also where it ends nowhere. */
function fallsOf(
  { recording, system }: Trace,
  { dip, release }: Phases,
  { span, rest }: { span: number; rest: RestLevel },
): Fall[] {
  const { volts, timeUs, count } = recording;
  const last = Math.min(release, count) - 1;
  const to = indexAt(recording, timeUs[last]! - T.contactSeconds * 1e6, dip);
  const step = Math.max(rest.stepVolts, windowStep(volts, dip, to));
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * step) / Math.sqrt(span);
  const least = Math.max(T.climbTurnVolts * system, T.climbTurnNoises * noise);
  const turns = turnsOf(volts, { from: dip, to, span, least });
  const end = turns.at(-1);
  if (end !== undefined && !end.isLow) {
    const late = windowMedian(volts, (end.at + to) >> 1, to);
    let at = end.at;
    while (at < to - 1 && volts[at]! > late + T.compressionHalfway * (end.volts - late)) at++;
    if (end.volts - late >= least) turns.push({ at, volts: late, isLow: true });
  }
  return turns.slice(1).flatMap((low, index) => (low.isLow ? [{ high: turns[index]!, low }] : []));
}

/** It takes its time, and is neither all to come nor all over halfway. */
function isGradual({ recording }: Trace, { high, low }: Fall, span: number): boolean {
  const seconds = secondsBetween(recording, high.at, low.at);
  if (seconds < T.compressionLeastSeconds || seconds > T.compressionMostSeconds) return false;
  const middle = (high.at + low.at) >> 1;
  if (middle === high.at) return false;
  const done = (high.volts - windowMean(recording.volts, middle - (span >> 1), span)) / (high.volts - low.volts);
  return done >= T.compressionHalfway && done <= 1 - T.compressionHalfway;
}
