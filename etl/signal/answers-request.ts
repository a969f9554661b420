import { batteryColdTimes } from './cold.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { isAsked } from './start-request.ts';
import type { Trace } from './trace.ts';

/**
 * A fall over samples [from, to) while the start is asked for that is deeper than any solenoid's on a battery so cold: a
 * starter, even if it stands still.
 */
export function answersRequest(
  { recording }: Trace,
  { from, to, fallVolts }: { from: number; to: number; fallVolts: number },
): boolean {
  const tempC = recording.tempC?.[from] ?? Number.NaN;
  const solenoid = Number.isNaN(tempC) ? P.motorLeastVoltsUnknown : P.motorLeastVolts * batteryColdTimes(tempC);
  return fallVolts >= solenoid && isAsked(recording, from, Math.min(to, recording.count)) === true;
}
