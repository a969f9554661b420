import { describe, expect, it } from 'vitest';
import { firstCompression } from '../../etl/signal/first-compression.ts';
import { caughtAgain, compressionsOf, lastLow } from '../../etl/signal/last-compression.ts';
import { loggedCrankRpm } from '../../etl/signal/logged-speed.ts';
import { isNearlyStalled } from '../../etl/signal/nearly-stalled.ts';
import { traceOf } from '../../etl/signal/trace.ts';
import { recordingOf } from './recording-of.ts';
import { channel, rowsOf, volts } from './shaped-voltage.ts';

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

describe('an engine that all but stops', () => {
  const rolling = { from: at(0.2), to: at(4.8), rippleHz: 3 };
  const peaks = [0.5, 0.8, 2, 2.3, 3.2, 3.5, 3.8, 4.6];
  const stops = (t: number) =>
    t < 0 ? 0 : 6 - 2.5 * Math.max(...peaks.map((peak) => Math.exp(-(((t - peak) / 0.1) ** 2))));

  it('hardly moves the voltage for a period of its faster moments', () => {
    expect(isNearlyStalled(traceOfFall(stops), rolling)).toBe(true);
  });

  it('is none that turns evenly, however slowly', () => {
    const turns = (t: number) => (t < 0 ? 0 : 5 + Math.cos(2 * Math.PI * 3 * t));
    expect(isNearlyStalled(traceOfFall(turns), rolling)).toBe(false);
  });
});

describe('the logged speed', () => {
  const fall = (t: number) => (t < 0 || t > 2 ? 0 : 3);
  const loggedOf = (rpm: (t: number) => number) => {
    const samples = volts(fall, { rateHz: RATE_HZ });
    const recording = recordingOf(samples, RATE_HZ, { rpm: channel(samples.length, RATE_HZ, rpm) });
    return loggedCrankRpm(recording, { onset: at(0), rollingFrom: at(0.2), rollingTo: at(1) });
  };

  it('is read where the engine rolls, a little late: not while it still runs up', () => {
    const runsUp = (t: number) => (t < 0 ? 0 : Math.min(180 + 5 * Math.sin(40 * t), 700 * t));
    expect(Math.abs(loggedOf(runsUp) - 180)).toBeLessThan(2);
  });

  it('is missing where the engine stood for much of the time', () => {
    const stands = (t: number) => (t % 0.4 < 0.2 ? 0 : 60 + 20 * Math.sin(40 * t));
    expect(loggedOf(stands)).toBeNaN();
  });
});

describe('the rest level', () => {
  it('is the median of the second before the onset, whatever was switched off before', () => {
    const heater = (t: number) => (t > -2.5 && t < -0.53 ? 0.5 : t > 0 && t < 1.2 ? 3 + 2 * Math.exp(-t / 0.05) : 0);
    const ripple = (t: number) => heater(t) + (t > 0 && t < 1.2 ? 0.3 * Math.cos(2 * Math.PI * 8 * t) : 0);
    const [crank] = rowsOf(recordingOf(volts(ripple, { rateHz: RATE_HZ, noise: 0.004, step: 0.001 }), RATE_HZ)).slice(
      -1,
    );
    expect(crank!.restVolts).toBeCloseTo(12.6, 2);
  });
});

describe('the speed of a crank that lost contact', () => {
  const lost = (t: number) => t > 1 && t < 1.2;
  const fall = (t: number) => {
    if (t < 0 || t > 2.6 || lost(t)) return 0;
    const since = t < 1 ? t : t - 1.2;
    const ripple = 0.4 * Math.cos(2 * Math.PI * 8 * (t - 0.25)) * Math.min(1, since / 0.15);
    return Math.min(1, since / 0.004) * (3 + 2.5 * Math.exp(-since / 0.04) + ripple);
  };

  it('is the mean of all of the rolling phase: less than that of the part that turns', () => {
    const [crank] = rowsOf(recordingOf(volts(fall, { rateHz: RATE_HZ, noise: 0.004, step: 0.001 }), RATE_HZ));
    expect(crank!.dropouts).toBe(1);
    expect(Math.abs(crank!.rippleHz / (8 * (1 - 0.2 / 2.35)) - 1)).toBeLessThan(0.02);
  });
});
