/**
 * Mean frequency of a ripple by its single compressions: lows and crests of the voltage are half a period apart, so those
 * of a stretch, with what lies before the first and behind the last, say how many periods the engine turned. A tone's
 * phase needs two periods to be seen and guesses the first one, in which a slow engine still gains speed; over four or
 * five periods that is what makes the mean.
 *
 * Valid where each compression is seen from the beginning on: NaN where the lows do not follow each other evenly, where
 * the first comes late (the starter may have spun up all the way), and where there are so many that the phase says it better.
 *
 * @example // lows at 0.10, 0.45, 0.77, 1.08 s, a stretch from 0.10 to 1.08 s: 3 periods in 0.98 s, 3.06 Hz
 */
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { medianOf } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';
import { turnsOf, type Turn } from './turning-points.ts';

type Stretch = { dip: number; from: number; to: number; hz: number; noiseVolts: number };
/** The engine has turned so many periods at a second of the recording. */
type Knot = { seconds: number; periods: number };

export function compressionsHz(trace: Trace, stretch: Stretch): number {
  const { recording } = trace;
  const { from, to, hz } = stretch;
  const begin = secondsBetween(recording, 0, from);
  const end = secondsBetween(recording, 0, to - 1);
  // Most cranks have more periods than could pass below, wherever within its drift their mean lies.
  if ((end - begin) * hz * (1 - T.ripplePhaseDrift) >= C.countedMost) return Number.NaN;
  const knots = knotsOf(trace, stretch);
  if (knots === null) return Number.NaN;
  const periods = periodsAt(knots, end) - periodsAt(knots, begin);
  const mean = periods / (end - begin);
  const isSeen = Math.abs(knots[0]!.seconds - begin) * hz < C.beginSlack && periods < C.countedMost;
  return isSeen && Math.abs(mean / hz - 1) <= T.ripplePhaseDrift ? mean : Number.NaN;
}

function knotsOf(trace: Trace, { dip, from, to, hz, noiseVolts }: Stretch): Knot[] | null {
  const { recording, system, stepSeconds } = trace;
  const span = Math.max(1, Math.round(Math.min(T.compressionSeconds, C.spanShare / hz) / stepSeconds));
  const least = Math.max(T.climbTurnVolts * system, (T.climbTurnNoises * noiseVolts) / Math.sqrt(span));
  const reach = Math.round(C.turnSlack / (hz * stepSeconds));
  // A low at the very end shows by the rise behind it.
  const behind = Math.min(recording.count, to + Math.round(0.5 / (hz * stepSeconds)));
  const turns = turnsOf(recording.volts, { from: dip, to: behind, span, least }).filter(({ at }) => at < to + reach);
  const first = turns.findIndex(({ at, isLow }) => isLow && at > dip + span && at > from - reach);
  const seen = turns.slice(Math.max(0, first));
  if (first < 0 || !areEven(trace, seen, hz)) return null;
  return seen.map(({ at }, index) => ({ seconds: secondsBetween(recording, 0, at), periods: index / 2 }));
}

function areEven({ recording }: Trace, turns: readonly Turn[], hz: number): boolean {
  const lows = turns.filter(({ isLow }) => isLow);
  const gaps = lows.slice(1).map(({ at }, index) => secondsBetween(recording, lows[index]!.at, at));
  const usual = medianOf(gaps);
  return (
    gaps.length >= C.gapsLeast &&
    Math.abs(usual * hz - 1) < C.gapSlack &&
    gaps.every((gap) => Math.abs(gap / usual - 1) < C.gapSlack)
  );
}

/** Between knots in a straight line; outside at the speed of the nearest half period. */
function periodsAt(knots: readonly Knot[], seconds: number): number {
  const next = knots.findIndex((knot) => knot.seconds > seconds);
  const right = next < 0 ? knots.length - 1 : Math.max(1, next);
  const [a, b] = [knots[right - 1]!, knots[right]!];
  return a.periods + ((seconds - a.seconds) * (b.periods - a.periods)) / (b.seconds - a.seconds);
}
