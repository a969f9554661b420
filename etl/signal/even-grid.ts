/**
 * A rolling phase as evenly spaced values, for looking at its ripple: interpolated or thinned to an even grid, freed of
 * its slow rise, and brought to one amplitude throughout.
 */
import type { Recording } from '../model/samples.ts';

const MOST_POINTS = 2_048;
/** A slow log is interpolated to this rate: whole samples would be too coarse a measure of a period. */
const FINE_HZ = 240;
/** A fast log is averaged down to about this rate: seven values in the fastest ripple's period, and less noise. */
const ENOUGH_HZ = 400;

export type Grid = { values: Float64Array; hz: number; sampledHz: number };

/** Linear interpolation onto the median interval; thinned by averaging where there are more than enough. */
export function evenGrid(recording: Recording, from: number, to: number): Grid | null {
  const { timeUs, volts } = recording;
  if (to - from < 8) return null;
  const spanUs = timeUs[to - 1]! - timeUs[from]!;
  const seconds = spanUs / 1e6;
  const wanted = Math.max(Math.min(to - from, Math.ceil(seconds * ENOUGH_HZ)), Math.ceil(seconds * FINE_HZ));
  const points = Math.min(wanted, MOST_POINTS);
  const stepUs = spanUs / (points - 1);
  const values = new Float64Array(points);
  const many = (to - from) / points;
  let at = from;
  for (let k = 0; k < points; k++) {
    const us = timeUs[from]! + k * stepUs;
    while (at < to - 2 && timeUs[at + 1]! <= us) at++;
    if (many > 1.5) values[k] = meanAround(volts, at, { half: Math.round(many / 2), from, to });
    else {
      const share = (us - timeUs[at]!) / Math.max(1, timeUs[at + 1]! - timeUs[at]!);
      values[k] = volts[at]! + share * (volts[at + 1]! - volts[at]!);
    }
  }
  return { values, hz: 1e6 / stepUs, sampledHz: ((to - from - 1) * 1e6) / spanUs };
}

function meanAround(
  volts: Float64Array,
  at: number,
  { half, from, to }: { half: number; from: number; to: number },
): number {
  const first = Math.max(from, at - half);
  const last = Math.min(to - 1, at + half);
  let sum = 0;
  for (let i = first; i <= last; i++) sum += volts[i]!;
  return sum / (last - first + 1);
}

/** Takes away a moving average of `span` points, the straight line through the ends where it would stick out. */
export function detrend(values: Float64Array, span: number): void {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + values[i]!;
  const half = Math.min(Math.floor(span / 2), Math.floor(n / 4));
  const smooth = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const reach = Math.min(half, i, n - 1 - i);
    smooth[i] = (sums[i + reach + 1]! - sums[i - reach]!) / (2 * reach + 1);
  }
  for (let i = 0; i < half; i++) smooth[i] = smooth[half]! + ((i - half) * (smooth[2 * half]! - smooth[half]!)) / half;
  for (let i = n - half; i < n; i++)
    smooth[i] =
      smooth[n - 1 - half]! + ((i - (n - 1 - half)) * (smooth[n - 1 - half]! - smooth[n - 1 - 2 * half]!)) / half;
  for (let i = 0; i < n; i++) values[i] = values[i]! - smooth[i]!;
}

/** Divides by the local amplitude, so that every moment of the phase counts alike: the first compressions are largest. */
export function level(values: Float64Array, span: number): void {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + values[i]! * values[i]!;
  const least = sums[n]! / n / 4;
  const half = Math.min(span, n) >> 1;
  for (let i = 0; i < n; i++) {
    const from = Math.max(0, Math.min(i - half, n - 2 * half));
    const to = Math.min(n, from + 2 * half);
    values[i] = values[i]! / Math.sqrt(Math.max((sums[to]! - sums[from]!) / (to - from), least));
  }
}

export function amplitude(values: Float64Array): number {
  let squares = 0;
  for (const value of values) squares += value * value;
  return Math.sqrt((2 * squares) / values.length);
}

/** The same values over a time that runs faster towards the end, by (1 + 2·gain) in all: a speed that grows so stands still. */
export function warped(values: Float64Array, gain: number): Float64Array {
  const last = values.length - 1;
  return values.map((_, k) => {
    // x + gain·x² = (1 + gain)·k/last, solved for x in [0, 1].
    const x = (Math.sqrt(1 + (4 * gain * (1 + gain) * k) / last) - 1) / (2 * gain);
    const at = Math.min(last - 1, Math.floor(x * last));
    const share = x * last - at;
    return values[at]! + share * (values[at + 1]! - values[at]!);
  });
}
