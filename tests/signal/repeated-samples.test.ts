/** A source of 20 Hz behind a logger that asks more often: nothing comes out but what the source's own log gives. */
import { describe, expect, it } from 'vitest';
import { searchCranks } from '../../etl/signal/crank-search.ts';
import { withoutRepeats } from '../../etl/signal/repeated-samples.ts';
import { simulateStart } from './electrical-start.ts';
import { recordingOf } from './recording-of.ts';
import { volts as shaped } from './shaped-voltage.ts';

const SOURCE_HZ = 20;
const start = (rateHz: number) => [
  ...simulateStart({ rateHz, stepVolts: 0.05, crankSeconds: 2, fireSeconds: 1.8 }).volts,
];
const told = start(SOURCE_HZ);
/** The source's newest value at each question. */
const askedAt = (rateHz: number) =>
  Array.from({ length: Math.floor((told.length * rateHz) / SOURCE_HZ) }, (_, i) => {
    return told[Math.floor((i * SOURCE_HZ) / rateHz + 1e-9)]!;
  });
const rowsOf = (samples: number[], rateHz: number) =>
  searchCranks(recordingOf(samples, rateHz), false).cranks.map(({ row: { line: _, ...row } }) => row);

describe('values that are written several times over', () => {
  it.each([40, 80, 200, 1000])('asked at %i Hz the source’s crank comes out', (rateHz) => {
    const [row, ...more] = rowsOf(askedAt(rateHz), rateHz);
    const [own] = rowsOf(told, SOURCE_HZ);
    expect(more).toEqual([]);
    for (const field of ['restVolts', 'dipVolts', 'crankVolts', 'crankSeconds'] as const)
      expect(row![field]).toBeCloseTo(own![field], 6);
    expect(row!.rateHz).toBeCloseTo(SOURCE_HZ, 6);
    expect(row!.rippleHz).toEqual(own!.rippleHz);
  });

  it('asked at no multiple of its rate, two or three times each: its rate is told within a quarter, no false ripple', () => {
    const [row] = rowsOf(askedAt(50), 50);
    expect(Math.abs(row!.rateHz / SOURCE_HZ - 1)).toBeLessThan(0.26);
    // 200 rpm on four cylinders.
    expect(Math.abs(row!.rippleHz / 6.667 - 1)).toBeLessThan(0.1);
  });

  it('what a person sees of it lies where it was written', () => {
    const samples = askedAt(80);
    const [crank] = searchCranks(recordingOf(samples, 80), false).cranks;
    const lowest = samples.indexOf(Math.min(...samples));
    expect(crank!.from).toBeLessThan(lowest);
    expect(crank!.to).toBeGreaterThan(lowest);
    expect(crank!.to).toBeLessThanOrEqual(samples.length);
  });
});

describe('what is not', () => {
  it.each([10, 50, 100, 1000, 5000])('a start sampled at %i Hz with a coarse sensor', (rateHz) => {
    const samples = [...simulateStart({ rateHz, stepVolts: 0.1 }).volts];
    expect(withoutRepeats(recordingOf(samples, rateHz))).toBeNull();
  });

  it('contacts that open and close by turns, without any noise', () => {
    const chatter = (t: number) => (t >= 0 && t < 2 && t % 0.15 < 0.06 ? 5 : 0);
    const samples = shaped(chatter, { rateHz: 500, noise: 0 });
    expect(withoutRepeats(recordingOf(samples, 500))).toBeNull();
  });
});
