import { heaterIntoStart } from './heater-into-start.ts';
import type { RestLevel } from './rest-level.ts';
import { isPullIn } from './pull-in.ts';
import { isEven, isSolenoid, type HeldPlateau, type Level } from './solenoid-plateau.ts';
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/**
 * A step down, a level stretch, a step back up: a load that is no motor. `to` is the record's end if it still lasts.
 * `either`: held so long that it is a heater if a crank follows, else a solenoid. `plain`: a heater even if none follows.
 */
export type Plateau = { kind: 'heater' | 'solenoid' | 'either'; to: number; depth: number; plain: boolean };

/**
 * The plateau that begins at sample `first`; null for a load that stays on, comes and goes slowly, or is of no kind
 * that matters here: an intake heater draws 60–150 A for seconds, a solenoid pulls 0.1–0.5 V down while it is held,
 * more while it pulls in.
 */
export function plateauAfter(trace: Trace, first: number, rest: RestLevel): Plateau | null {
  const { recording, system } = trace;
  if (rest.volts > T.runningVolts * system) return null;
  const plateau = levelAfter(trace, first, rest);
  if (plateau === null) return null;
  const { depth } = plateau;
  if (depth > T.heaterMostVolts * system) return null;
  const { end, falls } = stepBack(trace, plateau);
  if (falls) {
    const to = heaterIntoStart(trace, { first, plateau, rest }, end);
    return to < 0 ? null : { kind: 'heater', to, depth, plain: false };
  }
  if (end < 0) return null;
  if (end === recording.count) return depth >= T.heaterVolts ? { kind: 'heater', to: end, depth, plain: false } : null;
  const seconds = secondsBetween(recording, first, end);
  const held = { first, plateau, rest, seconds };
  const isHeater = depth >= T.heaterVolts && seconds >= T.heaterLeastSeconds && seconds <= T.heaterLongestSeconds;
  if (isSolenoid(trace, held)) {
    const isBrief =
      !isHeater || seconds <= T.bothWindingsSeconds || isPullIn(trace, { first, settled: plateau.from, depth, rest });
    return { kind: isBrief ? 'solenoid' : 'either', to: end, depth, plain: false };
  }
  return isHeater ? { kind: 'heater', to: end, depth, plain: isPlainHeater(trace, held) } : null;
}

/** Deep and long enough for a heater, and without the inrush of lamps and motors: one even if nobody then starts. */
function isPlainHeater(trace: Trace, held: HeldPlateau): boolean {
  if (held.seconds < T.heaterAloneSeconds || held.plateau.depth < T.heaterAloneVolts) return false;
  return isEven(trace, held, T.heaterFade);
}

/** Where the current has settled: with coils and filaments after 40 ms, with a solenoid once it has pulled in. */
function levelAfter({ recording }: Trace, first: number, rest: RestLevel): Level | null {
  const { volts, timeUs, count } = recording;
  const from = indexAt(recording, timeUs[first]! + T.settledSeconds * 1e6, first);
  const probe = indexAt(recording, timeUs[first]! + T.probeSeconds * 1e6, first);
  if (probe >= count) return null;
  const level = windowMedian(volts, from, Math.max(probe, from + 1));
  return { from, level, depth: rest.volts - level };
}

/**
 * First sample at which most of the depth has come back within a moment; `count` if the record ends before; −1 where it
 * drifts or stays. It `falls`
 * where it goes much deeper. The level is followed: under a heater the bank sinks further by what it takes seconds to
 * lose, and does not get that back at once; glow plugs draw less and less, and give back only what they still draw.
 */
function stepBack(trace: Trace, { from, level, depth }: Level): { end: number; falls: boolean } {
  const ended = (end: number) => ({ end, falls: false });
  const { recording } = trace;
  const { volts, timeUs, count } = recording;
  const untilUs = timeUs[from]! + T.heaterLongestSeconds * 1e6;
  let now = level;
  let renewedUs = timeUs[from]! + T.plateauLevelSeconds * 1e6;
  for (let i = from; i < count && timeUs[i]! <= untilUs; i++) {
    if (volts[i]! < now - 0.8 * depth - T.fallVolts * trace.system) return { end: i, falls: true };
    const drawn = Math.min(depth, level + depth - now);
    if (volts[i]! >= now + 0.6 * drawn && isBack(trace, i, now + T.plateauBackShare * drawn)) {
      // A filter spreads the step back over two samples.
      const before = Math.min(i - 3, indexAt(recording, timeUs[i]! - 0.08e6));
      return ended(windowMedian(volts, Math.max(from, before), i) < now + 0.4 * drawn ? i : -1);
    }
    if (timeUs[i]! < renewedUs) continue;
    now = windowMedian(volts, indexAt(recording, renewedUs - T.plateauLevelSeconds * 1e6), i);
    renewedUs = timeUs[i]! + T.plateauLevelSeconds * 1e6;
    if (now > level + T.plateauFades * depth) return ended(-1);
  }
  return ended(timeUs[count - 1]! <= untilUs ? count : -1);
}

/** What follows is near rest: the start of a motor that goes on with less current is no plateau. */
function isBack({ recording }: Trace, at: number, leastVolts: number): boolean {
  const from = indexAt(recording, recording.timeUs[at]! + 0.05e6, at);
  const to = indexAt(recording, recording.timeUs[at]! + 0.3e6, from);
  return to <= from || windowMedian(recording.volts, from, to) >= leastVolts;
}
