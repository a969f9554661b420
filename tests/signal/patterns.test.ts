import { describe, expect, it } from 'vitest';
import { PATTERNS } from '../../etl/model/words.ts';
import { simulateStart, type StartPlan } from './electrical-start.ts';
import { recordingOf } from './recording-of.ts';
import { asked, channel, during, formsOf, onsetOf, rowsOf, volts } from './shaped-voltage.ts';

const RATES = [10, 50, 200, 1000] as const;

describe('no_response: start requested and no dip at all, nothing drew current (design arithmetic: < 0.3 V)', () => {
  it.each(RATES)('at %i Hz, 12 and 24 V, at the beginning of the request', (rateHz) => {
    for (const rest of [12.6, 25.2]) {
      const samples = volts(() => 0, { rateHz, rest });
      const recording = recordingOf(samples, rateHz, asked(samples, rateHz));
      expect(formsOf(recording)).toEqual(['no_response']);
      expect(onsetOf(recording)).toBeCloseTo(0, 6);
      expect(rowsOf(recording)[0]!.restVolts).toBeCloseTo(rest, 1);
    }
  });

  it('by the control terminal, where no request is logged, with its volts', () => {
    const samples = volts(() => 0, { rateHz: 100 });
    const controlVolts = channel(samples.length, 100, (t) => (during(0, 1)(t) ? 12.4 : 0));
    const recording = recordingOf(samples, 100, { controlVolts });
    expect(formsOf(recording)).toEqual(['no_response']);
    expect(rowsOf(recording)[0]!.controlVolts).toBeCloseTo(12.4, 6);
  });

  it('a request that a crank answers is none, nor one while the engine charges, nor a tap', () => {
    const start = simulateStart({ rateHz: 200 });
    const samples = [...start.volts];
    const startRequest = Float64Array.from(start.seconds, (t) => (t > -0.06 && t < 1.5 ? 1 : 0));
    expect(formsOf(recordingOf(samples, 200, { startRequest }))).toEqual(['turned']);
    const charging = volts(() => 0, { rateHz: 200, rest: 14.2 });
    expect(formsOf(recordingOf(charging, 200, asked(charging, 200)))).toEqual([]);
    const resting = volts(() => 0, { rateHz: 200 });
    expect(formsOf(recordingOf(resting, 200, asked(resting, 200, 0.1)))).toEqual([]);
  });

  it('two requests are two rows, and a record that began under one says nothing of it', () => {
    const samples = volts(() => 0, { rateHz: 50 });
    const twice = (t: number) => (during(0, 1)(t) || during(2, 3)(t) ? 1 : 0);
    expect(formsOf(recordingOf(samples, 50, { startRequest: channel(samples.length, 50, twice) }))).toHaveLength(2);
    const stuck = channel(samples.length, 50, () => 1);
    expect(formsOf(recordingOf(samples, 50, { startRequest: stuck }))).toEqual([]);
  });
});

describe('solenoid_only: 0.1 to 0.5 V while the start is held', () => {
  it.each(RATES)('at %i Hz a hold-in of 0.14 V (14 A through 10 mΩ) with the request, 12 and 24 V', (rateHz) => {
    for (const rest of [12.6, 25.2]) {
      const samples = volts((t) => (during(0.02, 1.2)(t) ? 0.14 : 0), { rateHz, rest });
      const recording = recordingOf(samples, rateHz, asked(samples, rateHz));
      expect(formsOf(recording)).toEqual(['solenoid_only']);
      expect(onsetOf(recording)).toBeLessThan(0.02 + 1.1 / rateHz);
    }
  });

  const pull = (t: number) => (during(0, 0.045)(t) ? 0.3 : during(0, 0.7)(t) ? 0.14 : 0);
  it.each([100, 200, 1000])('at %i Hz without a request: 0.3 V for 45 ms, then 0.14 V', (rateHz) => {
    expect(formsOf(recordingOf(volts(pull, { rateHz }), rateHz))).toEqual(['solenoid_only']);
    expect(formsOf(recordingOf(volts(pull, { rateHz, rest: 25.2 }), rateHz))).toEqual(['solenoid_only']);
  });

  it.each([50, 200, 1000])(
    'lamps, a blower and a lift at %i Hz are no clicks: they fade from the first moment on',
    (rateHz) => {
      const fading = (fall: number, times: number, tau: number) => (t: number) =>
        during(0, 1.5)(t) ? fall * (1 + times * Math.exp(-t / tau)) : 0;
      for (const load of [fading(0.07, 5, 0.04), fading(0.15, 1.2, 0.3), fading(0.3, 1.3, 0.09)])
        expect(formsOf(recordingOf(volts(load, { rateHz }), rateHz))).toEqual([]);
    },
  );

  it('the same fall is no click where the log says that nobody asked', () => {
    const samples = volts(pull, { rateHz: 200 });
    const startRequest = new Float64Array(samples.length);
    expect(formsOf(recordingOf(samples, 200, { startRequest }))).toEqual([]);
  });
});

describe('chatter: 3 to 15 times a second, one row', () => {
  /** Both windings fall `pull`, the closed contact `fall`, 40 % of the time. */
  const chattering =
    (hz: number, fall: number, pull = 0) =>
    (t: number) =>
      during(0, 1.5)(t) ? ((t * hz) % 1 < 0.4 ? fall : pull) : 0;

  it.each([3, 6, 9, 14])('%i times a second, at 100 and 1000 Hz, 12 and 24 V', (hz) => {
    for (const rateHz of [100, 1000])
      for (const system of [1, 2]) {
        const samples = volts(chattering(hz, 5 * system, 0.4 * system), { rateHz, rest: 12.3 * system });
        const recording = recordingOf(samples, rateHz);
        expect(formsOf(recording)).toEqual(['chatter']);
        const row = rowsOf(recording)[0]!;
        expect(row.dropouts).toBe(Math.ceil(1.5 * hz - 1e-9) - 1);
        expect(Math.abs(onsetOf(recording))).toBeLessThan(1.1 / rateHz);
      }
  });

  it('behind a bad cable the closures fall little deeper than the windings alone', () => {
    expect(formsOf(recordingOf(volts(chattering(5, 1.1, 0.4), { rateHz: 200 }), 200))).toEqual(['chatter']);
  });

  it('without the motor: pulls of 0.4 V', () => {
    expect(formsOf(recordingOf(volts(chattering(8, 0.4), { rateHz: 200 }), 200))).toEqual(['chatter']);
  });

  it('compressions are none: an engine that turns, on four cylinders, strongly', () => {
    for (const compression of [0.6, 0.8, 1]) {
      const start = simulateStart({ compression, rateHz: 200, rpm: 160, fireSeconds: Infinity, crankSeconds: 2 });
      expect(formsOf(recordingOf([...start.volts], 200))).toEqual(['turned']);
    }
  });
});

describe('free_spin: no-load current, at most 90 A at 11–11.5 V (common bench value), after an inrush', () => {
  const spin = (fall: number, left: number) => (t: number) =>
    during(0, 1.4)(t) ? left + (fall - left) * Math.exp(-t / 0.04) : 0;

  it.each([50, 200, 1000])('at %i Hz: 5 V, then 0.55 V (90 A through 6 mΩ) until the key is let go', (rateHz) => {
    const recording = recordingOf(volts(spin(5, 0.55), { rateHz }), rateHz);
    expect(formsOf(recording)).toEqual(['free_spin']);
    expect(Math.abs(rowsOf(recording)[0]!.crankSeconds - 1.4)).toBeLessThan(Math.max(2 / rateHz, 0.03));
  });

  it('24 V, and a crank that turns the engine is none', () => {
    expect(formsOf(recordingOf(volts(spin(9, 0.9), { rateHz: 200, rest: 25.2 }), 200))).toEqual(['free_spin']);
    const start = simulateStart({ rateHz: 200, crankSeconds: 0.9, fireSeconds: 0.6 });
    expect(formsOf(recordingOf([...start.volts], 200))).toEqual(['turned']);
  });
});

describe('what the control circuit did', () => {
  const lost = [{ at: 0.6, seconds: 0.12 }];
  const plan: Partial<StartPlan> = { rateHz: 200, lost, crankSeconds: 2, fireSeconds: Infinity };
  const start = simulateStart(plan);
  const samples = [...start.volts];
  const held = (t: number) => t > -0.05 && t < 2;

  it('a contact lost with the request, and one lost in spite of it', () => {
    const gone = Float64Array.from(start.seconds, (t) => (held(t) && !(t > 0.6 && t < 0.72) ? 1 : 0));
    const kept = Float64Array.from(start.seconds, (t) => (held(t) ? 1 : 0));
    for (const [startRequest, controlDropouts] of [
      [gone, 1],
      [kept, 0],
    ] as const) {
      const [row] = rowsOf(recordingOf(samples, 200, { startRequest }));
      expect([PATTERNS[row!.form], row!.dropouts, row!.controlDropouts]).toEqual(['dropout', 1, controlDropouts]);
    }
  });

  it('without either channel the solenoid that pulls in anew (0.4 V for 30 ms) tells, from 200 Hz on', () => {
    const pulls = [...start.seconds].map((t, i) => samples[i]! - (t > 0.69 && t < 0.72 ? 0.4 : 0));
    expect(rowsOf(recordingOf(pulls, 200))[0]!.controlDropouts).toBe(1);
    expect(rowsOf(recordingOf(samples, 200))[0]!.controlDropouts).toBe(0);
    const slow = simulateStart({ ...plan, rateHz: 100 });
    expect(rowsOf(recordingOf([...slow.volts], 100))[0]!.controlDropouts).toBeNaN();
  });

  it('volts at the terminal while the start is held, and current while rolling', () => {
    const controlVolts = Float64Array.from(start.seconds, (t) => (held(t) ? 9.5 : 0));
    const [row] = rowsOf(recordingOf(samples, 200, { controlVolts, amps: start.amps }));
    expect(row!.controlVolts).toBe(9.5);
    // 0.4 of the stalled current of 12.6 V over 12 mΩ turns the engine, by the circuit's own equations; 8 A of loads.
    expect(Math.abs(row!.crankAmps - (0.4 * 12.6) / 0.012 - 8)).toBeLessThan(45);
  });
});

describe('unreadable: begins as a crank and cannot be judged', () => {
  const whole = [...simulateStart({ rateHz: 200 }).volts];
  it('the record ends 0.15 s after onset; at 0.6 s it is one that ended after the record', () => {
    const endedAt = (seconds: number) => formsOf(recordingOf(whole.slice(0, Math.round((2 + seconds) * 200)), 200));
    expect(endedAt(0.15)).toEqual(['unreadable']);
    expect(endedAt(0.6)).toEqual(['turned']);
  });

  it('more than a second of it is missing', () => {
    const long = [...simulateStart({ rateHz: 200, crankSeconds: 4, fireSeconds: Infinity }).volts];
    const recording = recordingOf(long, 200);
    const kept = [...long.keys()].filter((i) => i < 3 * 200 || i >= 4.4 * 200);
    const take = (values: Float64Array) => Float64Array.from(kept, (i) => values[i]!);
    const holed = { ...recording, count: kept.length, timeUs: take(recording.timeUs), volts: take(recording.volts) };
    expect(formsOf(holed)).toEqual(['unreadable']);
  });
});
