/**
 * The engine's pick-up: from here on the fuel turns it, the starter is unloaded and the voltage climbs until release. A
 * broken stick (a straight line that bends up once) is fitted by least squares to the end of the rolling phase, for
 * every possible bend; the best one is the pick-up, if the climb is worth the name. Ripple averages out of either limb.
 * A line that bends down, as the speed nears its end, is no pick-up.
 *
 * @example // 10 V until 1.0 s, then 2 V/s until release at 1.3 s: the sample at 1.0 s
 */
import { caughtAgain, compressionsOf, lastLow } from './last-compression.ts';
import { smoothClimb } from './smooth-climb.ts';
import { windowMedian } from './sorted-window.ts';
import { THRESHOLDS as T } from './thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

type Rolling = { from: number; release: number; restVolts: number; noiseVolts: number; notBefore?: number };
/** A bend at a sample: rise over the right limb, V; slopes left and right of it, V/s; share of the scatter it explains. */
type Bend = { at: number; rise: number; before: number; after: number; gain: number };

/** Sample index of the pick-up in [from, release]; `release` where the engine did not pick up. */
export function pickUp(trace: Trace, rolling: Rolling): number {
  const { recording } = trace;
  const compressions = compressionsOf(trace, rolling);
  const bend = bendOf(trace, rolling);
  const climb = bend < rolling.release ? bend : smoothClimb(trace, rolling);
  if (climb < rolling.release) return caughtAgain(recording, compressions, climb);
  const last = lastLow(recording, compressions);
  return last < 0 ? rolling.release : last;
}

function bendOf(trace: Trace, rolling: Rolling): number {
  const { from, release, restVolts, notBefore = 0 } = rolling;
  const { recording } = trace;
  const { timeUs, volts } = recording;
  if (release - from < 8) return release;
  // The step itself may take a sample or two: it is no part of the climb.
  const before = indexAt(recording, timeUs[release - 1]! - T.contactSeconds * 1e6, from);
  const end = Math.max(from + 6, topOfClimb(trace, from, before));
  const begin = Math.max(from, indexAt(recording, timeUs[end - 1]! - T.pickUpWatchSeconds * 1e6, from));
  const earliest = Math.max(
    begin + 3,
    notBefore,
    indexAt(recording, timeUs[end - 1]! - T.pickUpMostSeconds * 1e6, begin),
  );
  const bend = bestBend(trace, { from: begin, to: end, earliest });
  if (bend === null) return release;
  const level = windowMedian(volts, begin, Math.max(begin + 1, bend.at));
  const climbs = bend.rise >= T.pickUpShare * (restVolts - level) && bend.after >= T.pickUpSteeper * bend.before;
  if (!climbs || bend.gain < T.pickUpGain) return release;
  // So soon after the first compression it may be the starter that still gains speed: then compressions interrupt it.
  const early = indexAt(recording, timeUs[from]! + T.pickUpEarlySeconds * 1e6, from);
  const interrupted = bend.at < early && notBefore < early;
  return interrupted && fallBack(volts, bend.at, end) > T.pickUpFallShare * bend.rise
    ? bendOf(trace, { ...rolling, notBefore: early })
    : bend.at;
}

/** The deepest fall from a height reached before, V. */
function fallBack(volts: Float64Array, from: number, to: number): number {
  let [high, deepest] = [-Infinity, 0];
  for (let i = from; i < to; i++) {
    high = Math.max(high, volts[i]!);
    deepest = Math.max(deepest, high - volts[i]!);
  }
  return deepest;
}

/** Where a starter that overruns holds the voltage level before release, the climb ends earlier: at its shoulder. */
function topOfClimb(trace: Trace, from: number, end: number): number {
  const { recording } = trace;
  const { timeUs, volts } = recording;
  const lastUs = timeUs[Math.max(from, end - 1)]!;
  const high = windowMedian(volts, indexAt(recording, lastUs - T.shoulderSeconds * 1e6, from), end);
  const low = windowMedian(volts, from, Math.max(from + 1, (from + end) >> 1));
  const shoulder = low + T.shoulderShare * (high - low);
  let at = end;
  while (at > from + 1 && volts[at - 1]! + volts[at - 2]! > 2 * shoulder) at--;
  return secondsBetween(recording, at, Math.max(at, end - 1)) > T.shoulderSeconds ? at + 1 : end;
}

/**
 * The bend of y = a + b·t + c·max(0, t − t_bend), c > 0, with the least squares among samples [earliest, to − 3), in
 * one pass from the end: sums over the right limb, freed of level and slope, give the fit for every bend.
 */
function bestBend(trace: Trace, { from, to, earliest }: { from: number; to: number; earliest: number }): Bend | null {
  const { timeUs, volts } = trace.recording;
  const n = to - from;
  const endUs = timeUs[to - 1]!;
  const seconds = (i: number) => (timeUs[i]! - endUs) / 1e6;
  const middle = meanOver(n, (i) => seconds(from + i));
  const height = meanOver(n, (i) => volts[from + i]!);
  let tt = 0;
  let ty = 0;
  let yy = 0;
  for (let i = from; i < to; i++) {
    const t = seconds(i) - middle;
    const y = volts[i]! - height;
    tt += t * t;
    ty += t * y;
    yy += y * y;
  }
  const scatter = yy - (ty * ty) / tt;
  let count = 0;
  let sumT = 0;
  let sumTT = 0;
  let sumY = 0;
  let sumTY = 0;
  let best: Bend | null = null;
  for (let i = to - 1; i >= earliest; i--) {
    const t = seconds(i) - middle;
    const y = volts[i]! - height;
    count++;
    sumT += t;
    sumTT += t * t;
    sumY += y;
    sumTY += t * y;
    if (i > to - 3) continue;
    const h = sumT - count * t;
    const ht = sumTT - t * sumT;
    const hh = sumTT - 2 * t * sumT + count * t * t - (h * h) / n - (ht * ht) / tt;
    const hy = sumTY - t * sumY - (ht * ty) / tt;
    if (!(hh > 0) || !(hy > 0)) continue;
    const gain = (hy * hy) / hh / scatter;
    if (best !== null && gain <= best.gain) continue;
    const before = (ty - (hy / hh) * ht) / tt;
    const after = before + hy / hh;
    best = { at: i, rise: -after * seconds(i), before, after, gain };
  }
  return best;
}

function meanOver(n: number, value: (i: number) => number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += value(i);
  return sum / n;
}
