import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { RestLevel } from './rest-level.ts';
import { contactsOpen } from './contacts-open.ts';
import { firstCompression } from './first-compression.ts';
import { pickUp } from './pick-up.ts';
import type { Trace } from './trace.ts';

/** Where a crank's phases lie, as sample indexes. */
export type Phases = {
  onset: number;
  dip: number;
  /** First compression after the dip: from here on the engine rolls. */
  rollingFrom: number;
  /** Pick-up of the engine, or release: up to here (exclusive) it is the starter that turns. */
  rollingTo: number;
  /** First sample after the step back up; `count` where the record ends before it. */
  release: number;
  released: boolean;
  dropouts: number;
  dropoutSeconds: number;
  /** The dropouts as samples [from, to) in which the contact was open. */
  losses: readonly { from: number; to: number }[];
  /** Cranking level, V: median of the rolling phase. */
  rollingVolts: number;
};

/** Index of the lowest sample in [from, to). */
export function lowest(volts: Float64Array, from: number, to: number): number {
  let at = from;
  for (let i = from + 1; i < to; i++) if (volts[i]! < volts[at]!) at = i;
  return at;
}

/**
 * The onset: the first sample of the motor's inrush. From the dip back as long as the fall is deeper than the solenoid's
 * own step could be, then on while it is as steep as an inrush.
 */
export function onsetOf(trace: Trace, dip: number, rest: RestLevel): number {
  const { volts, timeUs } = trace.recording;
  const depth = rest.volts - volts[dip]!;
  const shelf = rest.volts - T.inrushShare * depth;
  let at = dip;
  while (at > 0 && volts[at - 1]! < shelf) at--;
  const latestUs = timeUs[at]! - T.steepSeconds * 1e6;
  while (
    at > 1 &&
    timeUs[at - 1]! >= latestUs &&
    volts[at - 1]! < rest.fallVolts &&
    volts[at - 2]! - volts[at - 1]! > T.steepShare * depth
  )
    at--;
  return afterShelf(trace, { at, dip, depth, restVolts: rest.volts });
}

type Fall = { at: number; dip: number; depth: number; restVolts: number };

/** On a weak battery the solenoid's own step is deep: where the steepest fall begins well after it, from a shelf, it is there. */
function afterShelf({ recording, stepSeconds }: Trace, { at, dip, depth, restVolts }: Fall): number {
  const { volts } = recording;
  const span = Math.max(1, Math.round(T.steepSeconds / stepSeconds));
  let steepest = at + span;
  for (let i = at + span; i <= dip; i++)
    if (volts[i - span]! - volts[i]! > volts[steepest - span]! - volts[steepest]!) steepest = i;
  const shelf = steepest - span;
  if (steepest > dip || secondsBetween(recording, at, shelf) < T.shelfSeconds) return at;
  if (volts[shelf]! < restVolts - T.shelfShare * depth) return at;
  let first = shelf + 1;
  while (first < dip && volts[shelf]! - volts[first]! <= T.steepShare * depth) first++;
  return first;
}

/** Phases of a crank whose inrush was found. `rest` is the level before it. */
export function phasesFrom(trace: Trace, onset: number, dip: number, rest: RestLevel): Phases {
  const end = releaseAfter(trace, { onset, dip, restVolts: rest.volts, noiseVolts: rest.noiseVolts });
  const span = { onset, dip, end: end.release, rest };
  const from = Math.min(end.release, Math.max(firstCompression(trace, span), spunUpAgain(trace, end.losses)));
  const rollingTo = pickUp(trace, {
    from,
    release: end.release,
    restVolts: rest.volts,
    noiseVolts: Math.max(rest.noiseVolts, T.roundingNoise * rest.stepVolts),
  });
  const rolledTo = Math.min(rollingTo, end.losses[0]?.from ?? rollingTo);
  const rollingFrom = firstCompression(trace, { ...span, rolledTo });
  // An engine that fires before the first compression is over has no rolling phase: its level is that of the whole.
  const levelFrom = rollingTo > rollingFrom ? rollingFrom : dip;
  const rollingVolts = windowMedian(trace.recording.volts, levelFrom, Math.max(rollingTo, levelFrom + 1));
  return { onset, dip, rollingFrom, rollingTo, rollingVolts, ...end };
}

/** After the last loss of contact the starter spins up anew: what climbs until then is not the engine's doing. */
function spunUpAgain({ recording }: Trace, losses: Phases['losses']): number {
  const last = losses.at(-1);
  return last === undefined ? 0 : indexAt(recording, recording.timeUs[last.to]! + T.spinUpSeconds * 1e6, last.to);
}

type Held = { onset: number; dip: number; restVolts: number; noiseVolts: number };
type Release = Pick<Phases, 'release' | 'released' | 'dropouts' | 'dropoutSeconds' | 'losses'>;

/**
 * The step back up. A rise that is lost again within half a second is a dropout of the same crank; a slow rise as the
 * engine picks up is followed to the steep one that ends it.
 */
export function releaseAfter(trace: Trace, crank: Held): Release {
  const { recording } = trace;
  const { volts, timeUs, count } = recording;
  const losses: { from: number; to: number }[] = [];
  const found: Release = { release: count, released: false, dropouts: 0, dropoutSeconds: 0, losses };
  let at = indexAt(recording, timeUs[crank.dip]! + T.spinUpSeconds * 0.3e6, crank.dip);
  let level = Number.NaN;
  let levelUntilUs = -Infinity;
  while (at < count) {
    if (timeUs[at]! >= levelUntilUs) {
      level = rollingLevel(trace, crank, at);
      levelUntilUs = timeUs[at]! + T.levelSeconds * 1e6;
    }
    const gap = crank.restVolts - level;
    if (volts[at]! < level + T.releaseShare * gap) {
      at++;
      continue;
    }
    const back = lostAgain(trace, at, level + T.lostShare * gap);
    if (back < 0) {
      const step = contactsOpen(trace, {
        crossing: at,
        rest: { volts: crank.restVolts, noiseVolts: crank.noiseVolts },
      });
      return { ...found, release: step < 0 ? steepest(trace, at) : step, released: true };
    }
    const seconds = secondsBetween(recording, at, back);
    const top = volts.subarray(at, back).reduce((most, value) => Math.max(most, value), -Infinity);
    if (seconds >= T.dropoutLeastSeconds && top - level >= T.dropoutShare * gap) {
      found.dropouts++;
      found.dropoutSeconds += seconds;
      losses.push({ from: at, to: back });
    }
    at = back + 1;
  }
  return found;
}

/** Median of up to a second of rolling before `at`; in the first moments of what follows, so that there is one. */
function rollingLevel(trace: Trace, crank: { dip: number; restVolts: number }, at: number): number {
  const { recording } = trace;
  const { timeUs, volts } = recording;
  const from = indexAt(recording, Math.max(timeUs[crank.dip]! + 0.1e6, timeUs[at]! - 1e6), crank.dip);
  if (from < at && secondsBetween(recording, from, at) >= 0.3) return windowMedian(volts, from, at);
  const to = indexAt(recording, timeUs[crank.dip]! + 0.4e6, crank.dip);
  const level = windowMedian(volts, Math.min(from, crank.dip + 1), Math.max(to, at + 1));
  // So near to rest it is what follows a crank that was over by then.
  const depth = crank.restVolts - volts[crank.dip]!;
  // A record that begins inside a crank has no inrush to compare with: what rolls at first goes on as deep.
  const share = crank.dip === 0 ? T.rollingGoesOnShare : T.rollingLeastShare;
  const isOver = crank.restVolts - level < share * depth;
  return isOver ? crank.restVolts - depth / 2 : level;
}

/** Index at which the voltage falls under `low` within the time of a dropout; −1 where it stays up. */
function lostAgain(trace: Trace, from: number, low: number): number {
  const { volts, timeUs } = trace.recording;
  const until = indexAt(trace.recording, timeUs[from]! + T.dropoutSeconds * 1e6, from);
  for (let i = from + 1; i < until; i++) if (volts[i]! < low) return i;
  return -1;
}

/** End of the steepest rise near a crossing: the contacts opening. */
function steepest(trace: Trace, crossing: number): number {
  const { recording, stepSeconds } = trace;
  const { volts, timeUs } = recording;
  const from = indexAt(recording, timeUs[crossing]! - 0.05e6);
  const to = indexAt(recording, timeUs[crossing]! + T.releaseWithinSeconds * 1e6, crossing);
  const span = Math.max(1, Math.round(0.01 / stepSeconds));
  let best = crossing;
  let rise = volts[crossing]! - volts[Math.max(0, crossing - span)]!;
  for (let i = Math.max(from, span); i < to; i++) {
    const own = volts[i]! - volts[i - span]!;
    if (own > rise * 1.2) {
      rise = own;
      best = i;
    }
  }
  return best;
}
