/**
 * The starter's contacts open: the step back up that ends a crank. It may start from rolling, from the climb of an engine
 * that picks up, or from the shelf of one that already runs ahead of the starter, whose clutch lets it: the current is
 * then that of no load (up to 90 A at 12 V: common bench value), the shelf a little under rest, and the step small.
 *
 * Found as the jump over 10 ms that exceeds most what the 40 ms before it would lead to, with a level stretch after it.
 * A climb fails by what follows it, the bend where it ends by what leads to it.
 *
 * @example // rolling 9.9 V, climb to 12.0 V in 0.15 s, level for 0.2 s, then 12.4 V at once: the first sample at 12.4 V
 */
import type { RestLevel } from './rest-level.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

/** More than a running sum of some thousand volts is off by rounding. */
const LEVEL_SLACK_VOLTS = 1e-6;

type Search = { crossing: number; rest: Pick<RestLevel, 'volts' | 'noiseVolts'> };

/** First sample after the step near or after `crossing`; −1 if nothing there is one, as where samples are too far apart. */
export function contactsOpen(trace: Trace, { crossing, rest }: Search): number {
  const { recording, system, stepSeconds } = trace;
  const { volts, timeUs, count } = recording;
  const span = Math.max(3, Math.round(T.stepSpanSeconds / stepSeconds));
  const reach = Math.max(1, Math.round(T.contactSeconds / stepSeconds));
  const from = Math.max(span, indexAt(recording, timeUs[crossing]! - T.stepBeforeSeconds * 1e6));
  const to = Math.min(
    count - reach - 2 * span,
    indexAt(recording, timeUs[crossing]! + T.overrunSeconds * 1e6, crossing),
  );
  const least = Math.max(T.stepLeastVolts * system, T.stepNoises * rest.noiseVolts);
  let best = -1;
  let most = 0;
  let before = mean(volts, from - span, span) * span;
  for (let i = from; i < to; before += volts[i]! - volts[i - span]!, i++) {
    const step = mean(volts, i + reach - 1, 2);
    // The line is never under its level, which a running sum tells well enough to pass nearly every sample.
    if (step - before / span <= least - LEVEL_SLACK_VOLTS) continue;
    // A starter that overruns still draws: from rest up a further rise is the alternator's.
    if (before / span > rest.volts - T.stepLeastVolts * system) continue;
    const excess = step - lineThrough(volts, { from: i - span, to: i, at: i + reach - 0.5 });
    if (excess <= least) continue;
    const after = mean(volts, i + reach, span);
    const level = Math.abs(mean(volts, i + reach + span, span) - after);
    const jump = after - volts[i - 1]!;
    if (jump < least || level > T.stepLevelShare * jump || after < rest.volts * (1 - T.stepMissesShare)) continue;
    if (jump < T.stepShare * (rest.volts - volts[i - 1]!)) continue;
    if (i <= best + reach && excess < most) continue;
    [best, most] = [i, excess];
  }
  return best;
}

function mean(volts: Float64Array, from: number, count: number): number {
  let sum = 0;
  for (let i = from; i < from + count; i++) sum += volts[i]!;
  return sum / count;
}

/** Value at `at` of the least-squares line through samples [from, to). */
function lineThrough(volts: Float64Array, { from, to, at }: { from: number; to: number; at: number }): number {
  const n = to - from;
  const middle = (from + to - 1) / 2;
  let level = 0;
  let slope = 0;
  for (let i = from; i < to; i++) {
    level += volts[i]!;
    slope += (i - middle) * volts[i]!;
  }
  // Falling lines are those of a ripple: they do not make the step greater.
  return level / n + Math.max(0, (slope * 12) / (n * (n * n - 1))) * (at - middle);
}
