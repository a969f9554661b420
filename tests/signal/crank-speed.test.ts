import { describe, expect, it } from 'vitest';
import type { FinishedTable } from '../../etl/model/crank.ts';
import { crankSpeed, isTooSlow, rpmOfRipple } from '../../etl/signal/crank-speed.ts';
import { unit } from '../support/units.ts';

const light = (cylinders: number) => unit({ unit: 'L', systemVolts: 12, cylinders });
const heavy = (cylinders: number) => unit({ unit: 'H', systemVolts: 24, cylinders });

describe('speed by ripple', () => {
  it('four-stroke: 7.14 Hz on four cylinders is 214 rpm (recorded, the engine said 206–223)', () => {
    expect(rpmOfRipple(7.14, 4)).toBeCloseTo(214.2, 6);
  });

  it('20 Hz folds the second harmonic of 230 rpm on four cylinders (15.3 Hz) to 4.7 Hz: too slow; 25 Hz is not', () => {
    expect([isTooSlow(20, light(4)), isTooSlow(25, light(4))]).toEqual([true, false]);
  });

  it('the more cylinders, the faster the log must be; a heavy engine turns more slowly', () => {
    expect([isTooSlow(25, light(6)), isTooSlow(50, light(6))]).toEqual([true, false]);
    expect([isTooSlow(20, heavy(4)), isTooSlow(50, heavy(12)), isTooSlow(25, heavy(8))]).toEqual([false, false, true]);
  });

  it('an empty speed says why: no register, or a ripple that no starter turns twelve cylinders at', () => {
    const columns = (rippleHz: number) => {
      const column = (value: number) => Float64Array.of(value);
      const none = column(Number.NaN);
      return { rateHz: column(100), rippleHz: column(rippleHz), rippleOtherHz: none, loggedRpm: none };
    };
    const speed = (rippleHz: number, of: ReturnType<typeof heavy> | null) =>
      crankSpeed(columns(rippleHz) as unknown as FinishedTable['columns'], 0, of);
    expect(speed(5.2, heavy(12))).toEqual({ rpm: Number.NaN, why: 'no_ripple' }); // 52 rpm
    expect(speed(Number.NaN, heavy(12))).toEqual({ rpm: Number.NaN, why: null });
    expect(speed(15, null)).toEqual({ rpm: Number.NaN, why: 'no_cylinders' });
    expect(speed(15, heavy(12))).toEqual({ rpm: 150, why: null });
  });
});
