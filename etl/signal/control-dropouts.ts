/**
 * Of the times at which contact was lost while cranking, those at which the control circuit had let go: by its own volts
 * where they are logged, else by the start request, or because the solenoid had to pull in anew. NaN where nothing tells.
 */
import type { Phases } from './phases.ts';
import { isPlungerOut } from './plunger-out.ts';
import { isControlGone } from './start-request.ts';
import type { Trace } from './trace.ts';

export function controlDropouts(trace: Trace, losses: Phases['losses'], noiseVolts: number): number {
  const { recording } = trace;
  const { controlVolts, startRequest } = recording;
  let gone = 0;
  for (const lost of losses) {
    const byShape = controlVolts === null ? isPlungerOut(trace, lost, noiseVolts) : false;
    if (controlVolts === null && startRequest === null && byShape === null) return Number.NaN;
    if (byShape === true || isControlGone(recording, lost.from, lost.to)) gone++;
  }
  return losses.length === 0 && controlVolts === null && startRequest === null ? Number.NaN : gone;
}
