import { describe, expect, it } from 'vitest';
import { PATTERNS } from '../../etl/model/words.ts';
import { searchCranks } from '../../etl/signal/crank-search.ts';
import { smoothClimb } from '../../etl/signal/smooth-climb.ts';
import { traceOf } from '../../etl/signal/trace.ts';
import { uniforms } from './electrical-start.ts';
import { recordingOf } from './recording-of.ts';

const BEGIN = 3;
const REST = 12.6;

/** 8 s of volts `fall(t)` below rest, t seconds from the onset, with 5 mV of noise on 5 mV steps. */
function samplesOf(fall: (t: number) => number, rateHz: number): number[] {
  const next = uniforms(rateHz);
  return Array.from({ length: 8 * rateHz }, (_, i) => {
    const exact = REST - fall((i + 0.5) / rateHz - BEGIN) + 0.01 * (next() - 0.5);
    return Math.round(exact * 200) / 200;
  });
}
const rowsOf = (fall: (t: number) => number, rateHz: number) =>
  searchCranks(recordingOf(samplesOf(fall, rateHz), rateHz), false).cranks.map(({ row }) => row);
const formsOf = (fall: (t: number) => number, rateHz: number) =>
  rowsOf(fall, rateHz).map(({ form }) => PATTERNS[form] ?? 'turned');

describe('a motor that spins free and comes up along an exponential', () => {
  const seconds = 1.6;
  const spin = (t: number) => (t < 0 || t >= seconds ? 0 : 5 * Math.exp(-t / 0.055) + 0.3);

  it.each([100, 200, 1000])('at %i Hz is one row that lasts until the contacts part', (rateHz) => {
    expect(formsOf(spin, rateHz)).toEqual(['free_spin']);
    expect(Math.abs(rowsOf(spin, rateHz)[0]!.crankSeconds - seconds)).toBeLessThan(0.03);
  });

  it('has volts, from 0.3 s after onset on, and no speed of an engine', () => {
    const [row] = rowsOf(spin, 1000);
    expect(row!.crankVolts).toBeCloseTo(REST - 0.3, 2);
    expect(row!.rippleHz).toBeNaN();
  });

  it('turned the engine after all if that charges then: its rolling phase is that of a crank', () => {
    const [row] = rowsOf((t) => (t < 2 ? spin(t) : REST - 14.2), 1000);
    expect(row!.form).toBeNaN();
    expect(row!.crankVolts).not.toBeCloseTo(REST - 0.3, 2);
  });

  it('is one as well at 25 Hz, where a sample meets the inrush', () => {
    expect(formsOf(spin, 25)).toEqual(['free_spin']);
  });

  it('is no motor where nothing fell first: a load of 0.3 V', () => {
    expect(formsOf((t) => (t < 0 || t >= seconds ? 0 : 0.3), 25)).not.toContain('free_spin');
  });
});

describe('chatter', () => {
  const cycle = (t: number) => t - Math.floor(t * 6) / 6;

  it('is not what deep ripple shows: 120 rpm on four cylinders, from a fifth of the inrush to all of it', () => {
    const ripple = (t: number) => (t < 0 || t >= 2 ? 0 : 3 + 2 * Math.cos(2 * Math.PI * 4 * t));
    expect(formsOf(ripple, 1000)).toEqual(['turned']);
  });

  it('is not what a coarse sensor shows of a level between two of its steps', () => {
    const flicker = (t: number) => (t >= 0 && t < 1.5 && cycle(t) < 0.06 ? 0.25 : 0);
    const samples = Array.from({ length: 8 * 50 }, (_, i) => 12.25 - flicker(i / 50 - BEGIN));
    expect(searchCranks(recordingOf(samples, 50), false).cranks).toEqual([]);
  });

  describe('of three closures', () => {
    const end = 3 / 6;
    const closures = (t: number) => (t >= 0 && t < end && cycle(t) < 0.08 ? 5 : 0);
    const after = (volts: number) => (t: number) => (t > end + 0.3 && t < 4 ? REST - volts : closures(t));

    it('is not what an engine shows that runs at once', () => {
      expect(formsOf(closures, 200)).toEqual(['chatter']);
      expect(formsOf(after(14.1), 200)).toEqual(['dropout']);
    });

    it('stays chatter where a bank that recovers comes no further than it rested, or another inrush comes first', () => {
      expect(formsOf(after(13), 200)).toEqual(['chatter']);
      const again = (t: number) => (t >= 1.6 && t < 2.2 ? 4 : t < 2.2 ? closures(t) : after(14.1)(t));
      expect(formsOf(again, 200)[0]).toBe('chatter');
    });
  });

  it('is one row, though its last closure is short and the bank comes back by and by', () => {
    const closures = (t: number) => (cycle(t) < 0.06 ? 6 : 0);
    const end = 12 / 6 + 0.015;
    const chatter = (t: number) => (t < 0 ? 0 : t < end ? closures(t) : 0.25 + 0.2 * Math.exp((end - t) / 0.2));
    expect(formsOf(chatter, 1000)).toEqual(['chatter']);
  });
});

describe('a climb without compressions', () => {
  const rateHz = 500;
  const at = (t: number) => Math.round((BEGIN + t) * rateHz);
  /** 6 Hz of ripple while the starter gains speed; from 0.5 s on the voltage climbs until release at `release`. */
  const climb = (rise: number) => (t: number) => {
    if (t < 0 || t >= 1) return 0;
    const turned = Math.min(t, 0.5);
    const ripple = t < 0.5 ? 0.3 * Math.cos(2 * Math.PI * 6 * t) : 0.3 * Math.cos(6 * Math.PI);
    return 4 - 2.4 * turned + (t < 0.5 ? ripple : -rise * (t - 0.5) + ripple);
  };
  const pickUpOf = (fall: (t: number) => number) =>
    smoothClimb(traceOf(recordingOf(samplesOf(fall, rateHz), rateHz)), {
      from: at(0.1),
      release: at(1),
      restVolts: REST,
      noiseVolts: 0.004,
    });

  it('begins at the last compression, even where it is no steeper than what was before', () => {
    expect(Math.abs(pickUpOf(climb(2.4)) - at(0.5)) / rateHz).toBeLessThan(0.06);
  });

  it('is none where compressions go on until release, nor where the climb is slight', () => {
    expect(pickUpOf((t) => 3 - 0.5 * t + 0.3 * Math.cos(2 * Math.PI * 6 * t))).toBe(at(1));
    expect(pickUpOf(climb(0.1))).toBe(at(1));
  });
});
