import { describe, expect, it } from 'vitest';
import { simulateStart } from './electrical-start.ts';
import { recordingOf } from './recording-of.ts';
import { asked, channel, during, formsOf, rowsOf, volts } from './shaped-voltage.ts';

describe('plateaus: a solenoid, a heater, or some other load', () => {
  const rateHz = 500;
  const plateau = (fall: number, seconds: number) => (t: number) => (during(0, seconds)(t) ? fall : 0);

  it('a pull-in is seen while its current still rises: 4 ms of 0.4 V, 40 ms long, then 0.1 V', () => {
    const rising = (t: number) => (during(0, 0.04)(t) ? 0.4 * (1 - Math.exp(-t / 0.004)) : plateau(0.1, 0.9)(t));
    for (const hz of [200, 500, 2000])
      expect(formsOf(recordingOf(volts(rising, { rateHz: hz }), hz))).toEqual(['solenoid_only']);
  });

  it('both windings for up to 2.9 s without a request; 0.4 V longer than a key is held in hope is some load', () => {
    for (const seconds of [2.2, 2.85])
      expect(formsOf(recordingOf(volts(plateau(0.28, seconds), { rateHz }), rateHz))).toEqual(['solenoid_only']);
    expect(formsOf(recordingOf(volts(plateau(0.28, 3.6), { rateHz, seconds: 9 }), rateHz))).toEqual([]);
  });

  it('less than half a second is no key held in hope, but a valve, a pump or a window', () => {
    expect(formsOf(recordingOf(volts(plateau(0.4, 0.6), { rateHz }), rateHz))).toEqual(['solenoid_only']);
    expect(formsOf(recordingOf(volts(plateau(0.4, 0.4), { rateHz }), rateHz))).toEqual([]);
  });

  it('from 13.1 V, where no battery rests, it is some load of an engine that runs, unless a start is asked for', () => {
    const samples = volts(plateau(0.4, 0.9), { rateHz, rest: 13.1 });
    expect(formsOf(recordingOf(samples, rateHz))).toEqual([]);
    expect(formsOf(recordingOf(samples, rateHz, asked(samples, rateHz, 0.9)))).toEqual(['solenoid_only']);
    expect(formsOf(recordingOf(volts(plateau(0.4, 0.9), { rateHz }), rateHz))).toEqual(['solenoid_only']);
  });

  it('one step of a coarse sensor is no solenoid', () => {
    const coarse = volts(plateau(0.2, 1), { rateHz, step: 0.2, noise: 0.001 });
    expect(formsOf(recordingOf(coarse, rateHz))).toEqual([]);
  });

  it('a second load on top of the first is no even plateau', () => {
    const two = (t: number) => plateau(0.3, 1.4)(t) + (during(0.3, 3.6)(t) ? 0.3 : 0);
    expect(formsOf(recordingOf(volts(two, { rateHz }), rateHz))).toEqual([]);
  });

  it.each([10, 50, 1000])('at %i Hz a heater of 0.6 V for 4 s is a row though nobody starts', (hz) => {
    expect(formsOf(recordingOf(volts(plateau(0.6, 4), { rateHz: hz, seconds: 12 }), hz))).toEqual(['preheat']);
  });

  it('2.2 s of 0.4 V and then a start: a heater, not a click', () => {
    const start = simulateStart({ rateHz, beforeSeconds: 6, loads: [{ from: -4, to: -1.8, amps: 80 }] });
    expect(formsOf(recordingOf([...start.volts], rateHz))).toEqual(['preheat', 'turned']);
  });

  it.each([10, 100, 1000])(
    'at %i Hz glow plugs that fade by half until the starter falls in: a heater, then a start',
    (hz) => {
      const glowing = Array.from({ length: 40 }, (_, k) => {
        const [from, amps] = [-4 + k / 10, 110 * (0.4 + 0.6 * Math.exp(-k / 30))];
        return { from, to: from + 0.1, amps };
      });
      const start = simulateStart({ rateHz: hz, beforeSeconds: 6, loads: glowing });
      expect(formsOf(recordingOf([...start.volts], hz))).toEqual(['preheat', 'turned']);
    },
  );

  it('what begins with an inrush and is still on at the start is some load', () => {
    const motor = Array.from({ length: 40 }, (_, k) => {
      const [from, amps] = [-4 + k / 10, 60 * (1 + 2 * Math.exp(-k / 0.8))];
      return { from, to: from + 0.1, amps };
    });
    const start = simulateStart({ rateHz, beforeSeconds: 6, loads: motor });
    expect(formsOf(recordingOf([...start.volts], rateHz))).toEqual(['turned']);
  });

  it('1.6 V, even, is a heater without current logged; with 400 A of it a motor that stands still', () => {
    const samples = volts(plateau(1.6, 2), { rateHz });
    expect(formsOf(recordingOf(samples, rateHz))).not.toContain('slow');
    const amps = channel(samples.length, rateHz, (t) => (during(0, 2)(t) ? 400 : 5));
    expect(formsOf(recordingOf(samples, rateHz, { amps }))).toEqual(['slow']);
  });
});

describe('the dip is the lowest voltage of the inrush', () => {
  it('a compression that all but stops the motor 0.15 s later falls deeper and is no dip', () => {
    const fall = (t: number) => {
      if (!during(0, 1.2)(t)) return 0;
      const turning = 2.4 + 2.1 * Math.exp(-t / 0.04) + 0.3 * Math.sin(2 * Math.PI * 7 * t);
      return during(0.13, 0.18)(t) ? 5 : turning;
    };
    const row = rowsOf(recordingOf(volts(fall, { rateHz: 1000, noise: 0.001, step: 0.001 }), 1000))[0]!;
    expect(row.dipVolts).toBeCloseTo(12.6 - 4.5, 1);
  });
});
