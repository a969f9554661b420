import { describe, expect, it } from 'vitest';
import { compressionHeights } from '../../etl/signal/compression-peaks.ts';
import { relativeCompression } from '../../etl/signal/relative-compression.ts';
import { recordingOf } from './recording-of.ts';

/** Heights as they come: cylinder by cylinder, `cycles` times. */
const repeated = (cylinders: readonly number[], cycles: number) =>
  Array.from({ length: cycles }, () => cylinders).flat();

describe('relative compression of heights', () => {
  it('equal peaks are equal cylinders: 1 (training text)', () => {
    for (const cylinders of [4, 6, 8]) expect(relativeCompression(Array(2 * cylinders).fill(3.3))).toBeCloseTo(1, 6);
  });

  it.each([
    [4, 3],
    [6, 2],
    [5, 2],
    [8, 2],
  ])('one of %i at 0.72 of the others, %i cycles: 0.72, a weak cylinder (training text)', (cylinders, cycles) => {
    for (let weak = 0; weak < cylinders; weak++) {
      const one = Array.from({ length: cylinders }, (_, i) => (i === weak ? 0.72 : 1));
      expect(relativeCompression(repeated(one, cycles))).toBeCloseTo(0.72, 2);
    }
  });

  it('has no unit, and heights that fade evenly as the engine gains speed are equal', () => {
    const fading = Array.from({ length: 12 }, (_, i) => 5 - 0.15 * i);
    expect(relativeCompression(fading)).toBeCloseTo(1, 3);
    const weak = repeated([0.72, 1, 1, 1], 3);
    expect(relativeCompression(weak.map((height) => 40 * height))).toBeCloseTo(relativeCompression(weak), 9);
  });

  it('an uneven pair on top of a weak cylinder: weakest over strongest', () => {
    expect(relativeCompression(repeated([1, 0.9, 0.7, 0.9], 6))).toBeCloseTo(0.7, 1);
  });

  it('is not known with too few compressions, one odd one, or heights in no order', () => {
    expect(relativeCompression([1, 1, 0.72, 1, 1])).toBeNaN();
    expect(relativeCompression([1, 1, 1, 1, 0.4, 1, 1, 1])).toBeNaN();
    expect(relativeCompression([1, 0.3, 0.9, 1.6, 0.5, 1.3, 0.2, 1.1, 1.8])).toBeNaN();
    expect(relativeCompression([1, 1, -1, 1, 1, 1, 1, 1])).toBeNaN();
  });
});

/** Rest 12.6 V; inrush, then a mean load with one sinusoidal compression after another, each as high as its cylinder. */
function turning(cylinders: readonly number[], { rateHz = 500, hz = 8, seconds = 2.5 } = {}) {
  const volts = Array.from({ length: Math.round((seconds + 0.2) * rateHz) }, (_, i) => {
    const t = i / rateHz - 0.2;
    if (t < 0) return 12.6 - 5 * Math.exp(-(t + 0.2) / 0.08);
    const height = cylinders[Math.floor(t * hz) % cylinders.length]!;
    return 10.2 - 0.35 * height * 0.5 * (1 - Math.cos(2 * Math.PI * t * hz));
  });
  const recording = recordingOf(volts, rateHz);
  const from = Math.round(0.2 * rateHz);
  return compressionHeights(recording, { from, to: volts.length, rippleHz: hz, dip: 0, restVolts: 12.6 });
}

describe('heights of compressions in a voltage', () => {
  it.each([
    [200, 8],
    [500, 8],
    [500, 12],
    [2000, 12],
  ])('at %i Hz with compressions at %i Hz: every one, equal', (rateHz, hz) => {
    const heights = turning([1, 1, 1, 1], { rateHz, hz });
    expect(heights.length).toBeGreaterThanOrEqual(2.5 * hz - 3);
    expect(Math.min(...heights) / Math.max(...heights)).toBeGreaterThan(0.93);
    expect(relativeCompression(heights)).toBeGreaterThan(0.97);
  });

  it.each([200, 1000])('a cylinder at 0.72 of the others at %i Hz: 0.72', (rateHz) => {
    for (const cylinders of [
      [1, 1, 0.72, 1],
      [1, 0.72, 1, 1, 1, 1],
    ])
      expect(Math.abs(relativeCompression(turning(cylinders, { rateHz })) - 0.72)).toBeLessThan(0.06);
  });

  it('needs ten samples a compression', () => {
    expect(turning([1, 1, 1, 1], { rateHz: 100, hz: 12 })).toEqual([]);
  });
});
