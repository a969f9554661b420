/**
 * Whether the sensor stood at its end while the voltage fell on: its lowest reading then stands still, where noise
 * would move it, and it leaves it in a leap, as no voltage leaves its own lowest. Told only where readings are fine.
 *
 * @example // 12.4, 8.15, 8.15, 8.15, 8.15, 8.31 V at 200 Hz: clipped; 12.4, 8.1, 8.0, 8.2, 8.5 V: not
 */
import type { Phases } from './phases.ts';
import type { RestLevel } from './rest-level.ts';
import { windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

export type Clipped = { dip: boolean; rolling: boolean };

export function clippedPhases(trace: Trace, phases: Phases, rest: RestLevel | null): Clipped {
  const { recording, system } = trace;
  const { volts } = recording;
  const end = Math.min(phases.release, recording.count);
  let least = Infinity;
  for (let i = phases.onset; i < end; i++) if (volts[i]! < least) least = volts[i]!;
  const { since, seconds, samples } = longestRun(trace, { from: phases.onset, to: end, volts: least });
  const step = windowStep(volts, phases.onset, end);
  const leaps = Math.min(volts[since - 1] ?? Infinity, volts[since + samples] ?? Infinity) - least >= 3 * step;
  const noisy = rest !== null && rest.noiseVolts > T.clippedNoises * step;
  const moves = noisy || (leaps && step <= T.clippedStepVolts * system);
  const stands = samples >= T.clippedSamples && seconds >= T.clippedSeconds;
  if (!moves || !stands) return { dip: false, rolling: false };
  let low = 0;
  for (let i = phases.rollingFrom; i < phases.rollingTo; i++) if (volts[i] === least) low++;
  return { dip: true, rolling: low > 1 };
}

type Reading = { from: number; to: number; volts: number };

function longestRun(
  { recording }: Trace,
  { from, to, volts }: Reading,
): { since: number; seconds: number; samples: number } {
  let best = { since: from, seconds: 0, samples: 0 };
  let since = -1;
  for (let i = from; i < to; i++) {
    if (recording.volts[i] !== volts) since = -1;
    else if (since < 0) since = i;
    if (since >= 0 && i - since + 1 > best.samples)
      best = { since, seconds: secondsBetween(recording, since, i), samples: i - since + 1 };
  }
  return best;
}
