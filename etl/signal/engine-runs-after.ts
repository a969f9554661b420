/**
 * A solenoid that chatters does not start the engine: where that runs at once after a few falls they were compressions
 * of a crank, met now and then by a slow log, or a contact lost for a moment.
 */
import type { FoundCrank } from './measured-row.ts';
import { PATTERN_THRESHOLDS as P } from './pattern-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import type { Trace } from './trace.ts';

/** After few closures the engine charges or turns by itself, and no other inrush comes before. */
export function engineRunsAfter({ recording, system, stepSeconds }: Trace, { phases, rest }: FoundCrank): boolean {
  if (rest === null || phases.dropouts > P.chatterRunsDropouts) return false;
  const { volts, rpm, timeUs } = recording;
  const to = indexAt(recording, timeUs[phases.release - 1]! + T.chargesWithinSeconds * 1e6, phases.release);
  const inrushVolts = rest.volts - P.chatterLowShare * (rest.volts - volts[phases.dip]!);
  let running = 0;
  for (let i = phases.release; i < to && volts[i]! >= inrushVolts; i++) {
    if (volts[i]! > T.runningVolts * system || (rpm !== null && rpm[i]! > T.runningRpm)) running++;
    if (running * stepSeconds > P.chatterRunsSeconds) return true;
  }
  return false;
}
