/**
 * Torque of each compression while a starter turns an engine, from the battery's voltage, in the order in which they
 * come; up to a common factor. The current follows the torque through the inertia of what turns: torque ∝ I + T·dI/dt
 * (a motor with back-EMF), and I ∝ rest − V. Without that a weak cylinder would be smeared over its neighbours.
 *
 * Needs ten samples a compression. Each height is from a maximum to the minimum that follows: what one cylinder takes
 * before its top dead centre it gives back after it.
 */
import type { Recording } from '../model/samples.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { indexAt, secondsBetween } from './time-window.ts';

export type RollingSpan = { from: number; to: number; rippleHz: number; dip: number; restVolts: number };

/** Heights of the compressions of [from, to); empty where they cannot be told apart. */
export function compressionHeights(recording: Recording, span: RollingSpan): number[] {
  const { from, to, rippleHz } = span;
  const seconds = secondsBetween(recording, from, to - 1);
  const perPeriod = (to - from) / (seconds * rippleHz);
  if (!(perPeriod >= C.samplesPerCompression)) return [];
  const torque = torqueOf(recording, span, perPeriod);
  const peaks = peaksOf(torque, perPeriod);
  return peaks.slice(1).map((next, index) => torque[peaks[index]!]! - least(torque, peaks[index]!, next));
}

function torqueOf(recording: Recording, span: RollingSpan, perPeriod: number): Float64Array {
  const { from, to, restVolts } = span;
  const half = Math.max(1, Math.round((C.smoothShare * perPeriod) / 2));
  const fall = new Float64Array(to - from);
  for (let i = from; i < to; i++) fall[i - from] = restVolts - recording.volts[i]!;
  const load = smoothed(fall, half);
  const samplesOfInertia = (inertiaSeconds(recording, span) * (to - from)) / secondsBetween(recording, from, to - 1);
  const torque = new Float64Array(load.length);
  for (let i = 0; i < load.length; i++) {
    const before = Math.max(0, i - half);
    const after = Math.min(load.length - 1, i + half);
    torque[i] = load[i]! + (samplesOfInertia * (load[after]! - load[before]!)) / Math.max(1, after - before);
  }
  return smoothed(torque, half);
}

/** Time constant of the spin-up: from the dip until all but 1/e of what the inrush draws more than rolling is gone. */
function inertiaSeconds(recording: Recording, { dip, from, to, restVolts }: RollingSpan): number {
  const { volts } = recording;
  let sum = 0;
  for (let i = from; i < to; i++) sum += volts[i]!;
  const rolling = restVolts - sum / (to - from);
  const left = rolling + (restVolts - volts[dip]! - rolling) / Math.E;
  const until = indexAt(recording, recording.timeUs[dip]! + C.inertiaMostSeconds * 1e6, dip);
  let at = dip;
  while (at < until && restVolts - volts[at]! > left) at++;
  return Math.max(C.inertiaLeastSeconds, secondsBetween(recording, dip, Math.min(at, recording.count - 1)));
}

/** Moving average of 2·half + 1 values. */
function smoothed(values: Float64Array, half: number): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i]! + values[i]!;
  const means = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const from = Math.max(0, i - half);
    const to = Math.min(values.length, i + half + 1);
    means[i] = (sums[to]! - sums[from]!) / (to - from);
  }
  return means;
}

/** One maximum a period, followed from the first one on: the speed may change from period to period. */
function peaksOf(torque: Float64Array, perPeriod: number): number[] {
  const peaks = [greatest(torque, 0, Math.ceil(perPeriod))];
  let period = perPeriod;
  for (;;) {
    const last = peaks.at(-1)!;
    const to = Math.round(last + (1 + C.periodSlack) * period);
    if (to >= torque.length) return peaks;
    const next = greatest(torque, Math.round(last + (1 - C.periodSlack) * period), to);
    period += C.periodFollows * (next - last - period);
    peaks.push(next);
  }
}

function greatest(values: Float64Array, from: number, to: number): number {
  let at = from;
  for (let i = from; i < Math.min(to, values.length); i++) if (values[i]! > values[at]!) at = i;
  return at;
}

function least(values: Float64Array, from: number, to: number): number {
  let low = values[from]!;
  for (let i = from; i < to; i++) low = Math.min(low, values[i]!);
  return low;
}
