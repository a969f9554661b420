import { describe, expect, it } from 'vitest';
import { compressionsHz } from '../../etl/signal/compressions-speed.ts';
import { traceOf } from '../../etl/signal/trace.ts';
import { recordingOf } from './recording-of.ts';
import { volts } from './shaped-voltage.ts';

const RATE_HZ = 500;
const at = (t: number) => Math.round((3 + t) * RATE_HZ);

/**
 * An engine that gains speed for a second: it has turned 2·t + t² / 2 periods by t s after the inrush, from then on three
 * a second. Its mean speed is what it turned over the time, whatever the voltage shows.
 */
const turned = (t: number) => (t < 1 ? 2 * t + t ** 2 / 2 : 3 * t - 0.5);
const slowEngine = (height: (t: number) => number) => (t: number) =>
  t < 0 || t > 3 ? 0 : 4 * Math.exp(-t / 0.02) + 3 + height(t) * (1 + Math.cos(2 * Math.PI * turned(t)));

function hzOf(height: (t: number) => number, { from, to, hz }: { from: number; to: number; hz: number }): number {
  const trace = traceOf(
    recordingOf(volts(slowEngine(height), { rateHz: RATE_HZ, noise: 0.004, step: 0.001 }), RATE_HZ),
  );
  return compressionsHz(trace, { dip: at(0.002), from: at(from), to: at(to), hz, noiseVolts: 0.002 });
}

describe('mean speed by single compressions', () => {
  const even = () => 0.5;

  it.each([
    [0.44, 2.1],
    [0.44, 1.9],
    [0.7, 2.1],
  ])('holds the first period, in which the engine gains speed: from %d to %d s', (from, to) => {
    const mean = (turned(to) - turned(from)) / (to - from);
    expect(Math.abs(hzOf(even, { from, to, hz: 2.9 }) / mean - 1)).toBeLessThan(0.015);
  });

  it('is not told where compressions are missed, or another speed than the ripple’s would come out', () => {
    const oneMissed = (t: number) => (Math.abs(turned(t) - 3) < 0.5 ? 0 : 0.5);
    expect(hzOf(oneMissed, { from: 0.44, to: 2.1, hz: 2.9 })).toBeNaN();
    expect(hzOf(even, { from: 0.44, to: 2.1, hz: 3.6 })).toBeNaN();
  });

  it('is left to the phase where there are many, or too few to see that they follow each other', () => {
    expect(hzOf(even, { from: 0.44, to: 2.9, hz: 2.9 })).toBeNaN();
    expect(hzOf(even, { from: 0.44, to: 0.9, hz: 2.9 })).toBeNaN();
  });
});
