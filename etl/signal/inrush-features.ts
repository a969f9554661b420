/** Features of the inrush: dip, greatest current and the resistances that follow; and what a sensor at its end takes away. */
import { clippedPhases } from './clipped.ts';
import type { Filling, FoundCrank } from './measured-row.ts';
import type { Phases } from './phases.ts';
import { inrushResistance } from './resistance.ts';
import type { RestLevel } from './rest-level.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import type { Trace } from './trace.ts';

const missing = Number.NaN;

export function fillInrush(trace: Trace, { phases, rest }: FoundCrank, { row, words }: Filling): void {
  if (rest === null) return;
  const { recording, rateHz } = trace;
  // At a low rate the true dip falls between the samples: what was met of it is kept to judge by, and never reported.
  row.dipVolts = dipVolts(trace, phases, rest);
  if (rateHz < T.dipLeastHz) words.add('rate_too_low');
  const { ampsPeak, batteryOhms, loopOhms } = inrushResistance(recording, phases, rest.volts);
  row.ampsPeak = ampsPeak;
  if (rest.reportable) Object.assign(row, { batteryOhms, loopOhms });
}

/**
 * Lowest mean of up to 1.5 ms near the dip: of many samples the lowest is the noisiest. Of no more than the noise needs,
 * since a mean cuts the corner of a sharp dip. Up to 1 kHz, the lowest sample.
 */
function dipVolts({ recording, stepSeconds }: Trace, { onset, dip }: Phases, rest: RestLevel): number {
  const { volts, count } = recording;
  const noise = Math.max(rest.noiseVolts, T.roundingNoise * rest.stepVolts);
  const needed = Math.floor(0.5 * (noise / T.dipNoiseVolts) ** 2);
  const half = Math.min(needed, Math.floor((0.5 * T.dipSeconds) / stepSeconds));
  const reach = half * T.dipReach;
  let least = Infinity;
  for (let i = Math.max(onset, dip - reach); i <= Math.min(dip + reach, count - 1 - half); i++) {
    let sum = 0;
    for (let j = i - half; j <= i + half; j++) sum += volts[j]!;
    least = Math.min(least, sum / (2 * half + 1));
  }
  return least === Infinity ? volts[dip]! : least;
}

/** What a sensor at its end has read is no voltage. */
export function withoutClipped(trace: Trace, { phases, rest }: FoundCrank, { row, words }: Filling): void {
  const clipped = clippedPhases(trace, phases, rest);
  if (clipped.dip) Object.assign(row, { dipVolts: missing, batteryOhms: missing, loopOhms: missing });
  if (clipped.rolling) row.crankVolts = missing;
  if (clipped.dip || clipped.rolling) words.add('clipped');
}
