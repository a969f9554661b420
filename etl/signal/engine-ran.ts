/**
 * Whether an engine ran shortly before a crank: a start after a stop at the lights, or after a stall, is another thing
 * than the first of a day, since the battery still holds its surface charge and the oil is warm. Seen by charging volts or
 * speed of half a second, in this record or in one of the same engine before it.
 */
import type { Recording } from '../model/samples.ts';
import { qualityBit } from '../model/words.ts';
import type { MeasuredRow } from './measured-row.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt } from './time-window.ts';
import { traceOf, type Trace } from './trace.ts';

export class EngineRan {
  /** Latest instant at which an engine was seen to run, by unit and position. */
  readonly #until = new Map<string, number>();

  /** Marks the cranks of one piece of a record; samples from `doneBefore` on will be seen again. */
  mark(recording: Recording, rows: readonly MeasuredRow[], doneBefore: number): void {
    const trace = traceOf(recording);
    const key = `${recording.unit}\u0000${recording.position}`;
    for (const row of rows) {
      const ran = ranUntil(trace, indexAt(recording, row.timeUs)) ?? this.#until.get(key) ?? -Infinity;
      const since = row.timeUs - ran;
      if (since >= 0 && since <= T.restartSeconds * 1e6) row.quality += qualityBit('restarted_running');
    }
    const ran = ranUntil(trace, doneBefore);
    if (ran !== null) this.#until.set(key, ran);
  }
}

const LOOK_SECONDS = 0.1;
const LOOKS = 5;

/** Looks back from a sample ten times a second: cheap, and half a second of running is not missed. */
function ranUntil({ recording, system, stepSeconds }: Trace, before: number): number | null {
  const { volts, timeUs, rpm } = recording;
  const stride = Math.max(1, Math.round(LOOK_SECONDS / stepSeconds));
  const earliestUs = timeUs[Math.max(0, before - 1)]! - T.restartSeconds * 1e6;
  let hits = 0;
  let lastUs = 0;
  for (let i = before - 1; i >= 0 && timeUs[i]! >= earliestUs; i -= stride) {
    const runs = volts[i]! > T.runningVolts * system || (rpm !== null && rpm[i]! > T.runningRpm);
    if (!runs) hits = 0;
    else if (hits++ === 0) lastUs = timeUs[i]!;
    if (hits === LOOKS) return lastUs;
  }
  return null;
}
