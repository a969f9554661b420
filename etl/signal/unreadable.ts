/**
 * What begins as a crank but cannot be judged: the record ends before the first compression is over, or begins after the
 * last one, or samples are missing for too much of it.
 */
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import type { Phases } from './phases.ts';
import { secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

type Span = Pick<Phases, 'onset' | 'release' | 'released'>;

export function isUnreadable(trace: Trace, span: Span, begunBefore: boolean): boolean {
  const { recording } = trace;
  const seconds = secondsBetween(recording, span.onset, Math.min(span.release, recording.count - 1));
  if ((begunBefore || !span.released) && seconds < P.readLeastSeconds) return true;
  const { longest, all } = missingSeconds(trace, span);
  return longest > P.gapMostSeconds || all > P.gapMostShare * seconds;
}

/** Seconds without samples: intervals of more than five usual ones, and more than 50 ms. */
export function missingSeconds({ recording, stepSeconds }: Trace, { onset, release }: Span) {
  const { timeUs, count } = recording;
  const most = Math.max(5 * stepSeconds, 0.05) * 1e6;
  let [longest, all] = [0, 0];
  for (let i = onset + 1; i < Math.min(release + 1, count); i++) {
    const gapUs = timeUs[i]! - timeUs[i - 1]!;
    if (gapUs <= most) continue;
    longest = Math.max(longest, gapUs / 1e6);
    all += gapUs / 1e6;
  }
  return { longest, all };
}
