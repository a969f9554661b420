import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeWaveform, encodeWaveform } from '../../etl/signal/waveform-codec.ts';
import { simulateStart } from './electrical-start.ts';

describe('waveform codec', () => {
  it('gives back what a logger wrote, jitter to the microsecond, in about three bytes a sample', () => {
    const start = simulateStart({ rateHz: 500, jitter: 0.1, stepVolts: 0.005 });
    const timeUs = start.seconds.map((t) => 1_700_000_000_000_000 + Math.round(t * 1e6));
    const bytes = encodeWaveform({ timeUs, volts: start.volts, amps: start.amps });
    expect(decodeWaveform(bytes)).toEqual({ timeUs, volts: start.volts, amps: start.amps });
    expect(encodeWaveform({ timeUs, volts: start.volts, amps: null }).length).toBeLessThan(3.2 * timeUs.length);
  });

  it('gives back any doubles, missing amps among them', () => {
    const doubles = fc.double({ noNaN: true, noDefaultInfinity: true });
    const row = fc.tuple(fc.integer({ min: 1, max: 2 ** 40 }), doubles, fc.option(doubles));
    fc.assert(
      fc.property(fc.array(row, { maxLength: 50 }), (rows) => {
        let us = 0;
        const timeUs = Float64Array.from(rows, ([step]) => (us += step));
        const volts = Float64Array.from(rows, ([, value]) => value);
        const amps = Float64Array.from(rows, ([, , value]) => value ?? Number.NaN);
        expect(decodeWaveform(encodeWaveform({ timeUs, volts, amps }))).toEqual({ timeUs, volts, amps });
      }),
    );
  });

  it('refuses series of different length', () => {
    expect(() => encodeWaveform({ timeUs: Float64Array.of(1, 2), volts: Float64Array.of(12), amps: null })).toThrow(
      'waveform requires series of one length, got 2 times and 1 volts (encode)',
    );
  });

  it('refuses bytes that are cut short', () => {
    const bytes = encodeWaveform({ timeUs: Float64Array.of(1, 2), volts: Float64Array.of(12, 12.5), amps: null });
    expect(() => decodeWaveform(bytes.subarray(0, 3))).toThrow();
  });
});
