import { describe, expect, it } from 'vitest';
import { createCrankFinder } from '../../etl/signal/crank-finder.ts';
import { rpmOfRipple } from '../../etl/signal/crank-speed.ts';
import { rippleOf } from '../../etl/signal/ripple.ts';
import type { SampleBatch } from '../../etl/model/samples.ts';

function batchOf(volts: number[], amps: number[], hz: number): SampleBatch {
  const count = volts.length;
  return {
    count,
    names: ['U1'],
    unit: new Int32Array(count),
    position: null,
    record: null,
    timeUs: Float64Array.from({ length: count }, (_, i) => 1.7e15 + (i * 1e6) / hz),
    volts: Float64Array.from(volts),
    amps: Float64Array.from(amps),
    tempC: null,
    coolantC: null,
    rpm: null,
    startRequest: null,
    controlVolts: null,
    line: Float64Array.from({ length: count }, (_, i) => i + 2),
  };
}

describe('inrush arithmetic (Ohm): 12.6 V, battery 5 mΩ, cables 1 mΩ, stalled motor 4.5 mΩ', () => {
  const hz = 200;
  const amps = Array.from({ length: 6 * hz }, (_, i) => {
    const t = i / hz - 1;
    if (t < 0 || t > 1.5) return 0;
    // 1,200 A stalled; spins up to 350 A with a 12 Hz ripple.
    return t < 0.03
      ? 12.6 / 0.0105
      : 350 + 850 * Math.exp(-(t - 0.03) / 0.12) + (t > 0.3 ? 60 * Math.sin(2 * Math.PI * 12 * t) : 0);
  });
  const finder = createCrankFinder();
  const first = finder.push(
    batchOf(
      amps.map((a) => 12.6 - 0.005 * a),
      amps,
      hz,
    ),
  );
  const found = [...first.cranks, ...finder.end().cranks];
  const row = found[0]!.measured.columns;

  it('draws 1200 A, dips to 6.6 V, sag ratio 0.909', () => {
    expect(row.ampsPeak[0]).toBeCloseTo(1200, 6);
    expect(row.dipVolts[0]).toBeCloseTo(6.6, 6);
    expect((row.restVolts[0]! - row.dipVolts[0]!) / row.dipVolts[0]!).toBeCloseTo(0.909, 3);
  });
  it('gives back 5 mΩ for the battery and 5.5 mΩ for the rest of the loop', () => {
    expect(row.batteryOhms[0]).toBeCloseTo(0.005, 6);
    expect(row.loopOhms[0]).toBeCloseTo(0.0055, 6);
  });
  it('finds the ripple of 12 Hz: 360 rpm on four cylinders, 240 on six', () => {
    expect(Math.abs(row.rippleHz[0]! / 12 - 1)).toBeLessThan(0.01);
  });
});

describe('ripple', () => {
  it('7.14 Hz on four cylinders is 214 rpm (recorded start, engine reading 206–223)', () => {
    expect(rpmOfRipple(7.14, 4)).toBeCloseTo(214.2, 6);
  });
  it('12 Hz on a decaying ramp, 200 Hz for 2 s, is found within 0.2 % (12.0153 by autocorrelation, 12.0 by spectrum)', () => {
    const volts = Float64Array.from(
      { length: 400 },
      (_, i) => 10 - 0.3 * Math.exp(-i / 120) + 0.2 * Math.sin((2 * Math.PI * 12 * i) / 200),
    );
    const timeUs = Float64Array.from({ length: 400 }, (_, i) => i * 5000);
    const { names: _, unit: __, record: ___, position: ____, ...batch } = batchOf([...volts], [...volts], 200);
    const ripple = rippleOf({ ...batch, unit: 'U1', position: '', timeUs }, { from: 0, to: 400, leastVolts: 0.03 });
    expect(Math.abs(ripple.hz - 12)).toBeLessThan(0.025);
  });
});
