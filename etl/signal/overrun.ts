/**
 * Release after an overrun. An engine that has picked up runs ahead of the starter, whose clutch lets it: the current
 * falls to that of no load (up to 90 A at 12 V: common bench value) and the voltage climbs to a shelf a little under
 * rest, which looks like release. The real one is the small sharp step from that shelf.
 *
 * @example // rolling 9.9 V, climb to 12.0 V in 0.15 s, level for 0.2 s, then 12.5 V at once: the first sample at 12.5 V
 */
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** First sample after the step that ends the shelf which begins within a moment of `crossing`; −1 if there is none. */
export function endOfOverrun(trace: Trace, crossing: number, restVolts: number): number {
  const { recording, system, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const high = restVolts * (1 - T.overrunShare);
  const until = indexAt(recording, timeUs[crossing]! + T.overrunSeconds * 1e6, crossing);
  const reach = Math.max(1, Math.round(T.contactSeconds / stepSeconds));
  let low = volts[crossing]!;
  let top = low;
  let begin = crossing;
  for (let i = crossing + 1; i < until; i++) {
    const now = volts[i]!;
    const level = (low + top) / 2;
    const isLong = i - begin >= 3 && secondsBetween(recording, begin, i) >= T.overrunLeastSeconds;
    const after = volts[Math.min(until - 1, i + reach)]!;
    const step = Math.min(now, after) - top;
    if (isLong && level < high && step >= Math.max(T.overrunStepVolts * system, T.overrunStep * (restVolts - level)))
      return i;
    [low, top] = [Math.min(low, now), Math.max(top, now)];
    if (top - low <= T.overrunLevelVolts * system) continue;
    // Not level any more: the shelf can begin here at the earliest, or among the last samples that are level with it.
    begin = i;
    [low, top] = [now, now];
    while (begin > crossing && Math.abs(volts[begin - 1]! - now) <= T.overrunLevelVolts * system * 0.5) begin--;
    for (let k = begin; k < i; k++) [low, top] = [Math.min(low, volts[k]!), Math.max(top, volts[k]!)];
  }
  return -1;
}
