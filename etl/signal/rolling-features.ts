/** Features of the rolling phase: cranking volts and current, ripple, logged speed, relative compression. */
import { compressionHeights } from './compression-peaks.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { compressionsHz } from './compressions-speed.ts';
import { compressionsOf } from './last-compression.ts';
import { loggedCrankRpm } from './logged-speed.ts';
import type { Filling, FoundCrank } from './measured-row.ts';
import type { Phases } from './phases.ts';
import { isNearlyStalled } from './nearly-stalled.ts';
import { relativeCompression } from './relative-compression.ts';
import { rippleOf, type Ripple } from './ripple.ts';
import { medianOf, windowStep } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { timeMean } from './time-mean.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

const missing = Number.NaN;
const NONE = { hz: missing, otherHz: missing, why: 'no_ripple' } as const;

export function fillRolling(trace: Trace, crank: FoundCrank, { row, words }: Filling): void {
  const { recording } = trace;
  const { phases, rest } = crank;
  const { rollingFrom, rollingTo } = phases;
  row.dropouts = phases.dropouts;
  row.dropoutSeconds = phases.dropoutSeconds;
  if (rollingTo <= rollingFrom) {
    words.add('too_short');
    return;
  }
  row.crankVolts = timeMean(recording, recording.volts, { from: rollingFrom, to: rollingTo });
  if (recording.amps !== null) {
    const amps = timeMean(recording, recording.amps, { from: rollingFrom, to: rollingTo });
    row.crankAmps = amps > 0 ? amps : missing; // less is a reversed channel's
  }
  if (crank.form === 'free_spin') return;
  row.loggedRpm = loggedCrankRpm(recording, { onset: phases.onset, rollingFrom, rollingTo });
  const ripple = ripplePart(trace, crank);
  const isShort = ripple.why === 'ok' && hidesCompressions(trace, phases, ripple.hz);
  const turns = isShort ? missing : turningShare(trace, phases);
  const hz = countedHz(trace, crank, ripple);
  row.rippleHz = hz * turns;
  row.rippleOtherHz = ripple.otherHz * turns;
  if (ripple.why !== 'ok') words.add(ripple.why === 'no_ripple' && isBrief(trace, crank) ? 'too_short' : ripple.why);
  else if (isShort) words.add('too_short');
  else if (Number.isNaN(turns)) words.add('no_ripple');
  else if (rest !== null && phases.dropouts === 0)
    row.relativeCompression = relativeCompression(
      compressionHeights(recording, {
        from: rollingFrom,
        to: rollingTo,
        rippleHz: ripple.hz,
        dip: phases.dip,
        restVolts: rest.volts,
      }),
    );
}

/** Fewer than four compressions, by how long it takes from one that is seen to the next. */
function isBrief(trace: Trace, { phases: { rollingFrom, rollingTo }, rest }: FoundCrank): boolean {
  const { recording } = trace;
  const rolling = { from: rollingFrom, release: rollingTo, noiseVolts: rest?.noiseVolts ?? 0 };
  const { turns, span } = compressionsOf(trace, rolling);
  const lows = turns.filter(({ at, isLow }) => isLow && at > rollingFrom + 2 * span).map(({ at }) => at);
  const gaps = lows.map((at, index) => secondsBetween(recording, lows[index - 1] ?? rollingFrom, at));
  const period = medianOf(gaps);
  const seconds = secondsBetween(recording, rollingFrom, rollingTo - 1);
  return period <= T.compressionMostSeconds && seconds < T.ripplePeriods * period;
}

/** By single compressions where they can be counted: their mean holds the first period too. */
function countedHz(trace: Trace, { phases, rest }: FoundCrank, { hz, why }: Ripple): number {
  if (why !== 'ok' || phases.losses.length > 0) return hz;
  const { dip, rollingFrom: from, rollingTo: to } = phases;
  const counted = compressionsHz(trace, { dip, from, to, hz, noiseVolts: rest?.noiseVolts ?? 0 });
  return Number.isNaN(counted) ? hz : counted;
}

/**
 * The steep rise after the dip may have hidden a first compression: where what was seen to roll is not much longer, the
 * mean speed hangs on it.
 */
function hidesCompressions({ recording }: Trace, { dip, rollingFrom, rollingTo }: Phases, hz: number): boolean {
  const hidden = secondsBetween(recording, dip, rollingFrom);
  return hidden * hz > 1 && secondsBetween(recording, rollingFrom, rollingTo - 1) < T.hiddenTimes * hidden;
}

/** Ripple of the rolling phase; where it fades before the end, as an engine picks up gently, of three quarters of it. */
function ripplePart(trace: Trace, crank: FoundCrank): Ripple {
  const { recording, system } = trace;
  const { from, to } = longestHeld(trace, crank.phases);
  // Flicker of a coarse sensor between two steps is no ripple.
  const leastVolts = Math.max(T.rippleVolts * system * 0.75, T.rippleSteps * windowStep(recording.volts, from, to));
  const spinsUp = crank.rest !== null;
  const whole = rippleOf(recording, { from, to, leastVolts, spinsUp });
  const fades = from + Math.round(T.rippleFadesShare * (to - from));
  const part = whole.why === 'no_ripple' ? rippleOf(recording, { from, to: fades, leastVolts, spinsUp }) : whole;
  if (part.why !== 'ok') return whole;
  return isNearlyStalled(trace, { from, to, rippleHz: part.hz }) ? NONE : part;
}

/**
 * Share of the rolling phase in which the engine turns, for a mean over all of it: without contact it stops within a
 * compression or two, and takes about as long to spin up again. Missing where that is too much to say.
 */
function turningShare({ recording }: Trace, { rollingFrom, rollingTo, losses }: Phases): number {
  const lost = losses.reduce((sum, { from, to }) => {
    const [begins, ends] = [Math.max(from, rollingFrom), Math.min(to, rollingTo)];
    return sum + (ends > begins ? secondsBetween(recording, begins, ends) : 0);
  }, 0);
  const share = 1 - lost / secondsBetween(recording, rollingFrom, rollingTo - 1);
  return share < C.turningLeastShare ? missing : share;
}

/** The rolling phase; where contact was lost, the longest stretch of it in which it was not, once it turns anew. */
function longestHeld({ recording }: Trace, { rollingFrom, rollingTo, losses }: Phases): { from: number; to: number } {
  const turnsAnew = (to: number) => indexAt(recording, recording.timeUs[to]! + T.spinUpSeconds * 1e6, to);
  const begins = [rollingFrom, ...losses.map(({ to }) => turnsAnew(to))];
  const ends = [...losses.map(({ from }) => from), rollingTo];
  return begins
    .map((from, i) => ({ from: Math.max(from, rollingFrom), to: Math.min(ends[i]!, rollingTo) }))
    .reduce((best, each) => (each.to - each.from > best.to - best.from ? each : best));
}
