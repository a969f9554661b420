import { describe, expect, it } from 'vitest';
import { firstCompression } from '../../etl/signal/first-compression.ts';
import { caughtAgain, compressionsOf, lastLow } from '../../etl/signal/last-compression.ts';
import { traceOf } from '../../etl/signal/trace.ts';
import { recordingOf } from './recording-of.ts';
import { volts } from './shaped-voltage.ts';

const RATE_HZ = 500;
const at = (t: number) => Math.round((3 + t) * RATE_HZ);
const secondsOf = (index: number) => index / RATE_HZ - 3;
const traceOfFall = (fall: (t: number) => number) =>
  traceOf(recordingOf(volts(fall, { rateHz: RATE_HZ, noise: 0.004, step: 0.001 }), RATE_HZ));

describe('the first compression', () => {
  /** The inrush dies away; the engine passes its first compression at 0.25 s, then eight a second. */
  const spinUp = (shoulder: number) => (t: number) => {
    if (t < 0 || t > 2) return 0;
    const ripple = t < 0.1875 ? 0 : 0.4 * (1 + Math.cos(2 * Math.PI * 8 * (t - 0.25)));
    return 5 * Math.exp(-t / 0.06) + 2.4 + ripple + shoulder * Math.exp(-(((t - 0.12) / 0.02) ** 2));
  };
  const firstOf = (shoulder: number, rolledTo?: number) => {
    const span = { onset: at(0), dip: at(0.004), end: at(2), rest: { noiseVolts: 0.002, stepVolts: 0.001 } };
    const known = rolledTo === undefined ? {} : { rolledTo: at(rolledTo) };
    return secondsOf(firstCompression(traceOfFall(spinUp(shoulder)), { ...span, ...known }));
  };

  it('is where the voltage is lowest against its rise', () => {
    expect(Math.abs(firstOf(0) - 0.25)).toBeLessThan(0.02);
  });

  it('turns the slope as later ones do: a shoulder of the spin-up is none', () => {
    expect(firstOf(0.12)).toBeLessThan(0.2);
    expect(Math.abs(firstOf(0.12, 1.9) - 0.25)).toBeLessThan(0.02);
  });
});

describe('the last compression', () => {
  /** Ten compressions a second, lowest at every tenth, until the engine fires at 1 s; release at 1.3 s. */
  const ripple = (t: number) => 3 + 0.4 * Math.cos(2 * Math.PI * 10 * t);
  const compressions = (fall: (t: number) => number) => {
    const trace = traceOfFall((t) => (t < 0 || t >= 1.3 ? 0 : fall(t)));
    const found = compressionsOf(trace, { from: at(0.2), release: at(1.3), noiseVolts: 0.002 });
    return { recording: trace.recording, found };
  };

  it('is the pick-up of an engine that still compresses while it picks up', () => {
    const { recording, found } = compressions((t) => ripple(t) - (t < 1 ? 0 : Math.min(1.5, 15 * (t - 1))));
    expect(Math.abs(secondsOf(lastLow(recording, found)) - 1)).toBeLessThan(0.02);
  });

  it('is not told where the starter turns the engine until release', () => {
    const { recording, found } = compressions(ripple);
    expect(lastLow(recording, found)).toBe(-1);
  });

  it('comes after a single firing, from which the engine is caught again', () => {
    const { recording, found } = compressions((t) => {
      if (t > 0.6 && t < 0.8) return ripple(t) - 1.5 * Math.sin((Math.PI * (t - 0.6)) / 0.2);
      return t < 1 ? ripple(t) : 3.4 - 6 * (t - 1);
    });
    expect(Math.abs(secondsOf(caughtAgain(recording, found, at(0.6))) - 1)).toBeLessThan(0.02);
    expect(caughtAgain(recording, found, at(1))).toBe(at(1));
  });
});
