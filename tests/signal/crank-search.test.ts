import { describe, expect, it } from 'vitest';
import { qualityWords } from '../../etl/model/words.ts';
import { simulateStart } from './electrical-start.ts';
import { recordingOf } from './recording-of.ts';
import { asked, channel, during, formsOf, onsetOf, rowsOf, volts } from './shaped-voltage.ts';

/** An inrush of `most` volts that leaves `held` within some tens of ms. */
const inrush = (t: number, { most, held }: { most: number; held: number }) =>
  held + (most - held) * Math.exp(-t / 0.04);

describe('a starter is told from a load', () => {
  /** 1.9 V with a wave of 0.5 V, two and a half times in 1.2 s: too few for a ripple. */
  const slowly = (wave: (t: number) => number) => (t: number) =>
    during(0, 1.2)(t) ? inrush(t, { most: 2.4, held: 1.7 }) + 0.25 * wave(t) : 0;
  const compressions = (t: number) => 1 - Math.cos((2 * Math.PI * t) / 0.45);
  const flasher = (t: number) => (t % 0.45 < 0.22 ? 0 : 2);

  it.each([50, 200, 1000])(
    'at %i Hz by two compressions, which come by and by; a flasher on a lift comes at once',
    (rateHz) => {
      expect(formsOf(recordingOf(volts(slowly(compressions), { rateHz, noise: 0.005 }), rateHz))).toEqual(['turned']);
      expect(formsOf(recordingOf(volts(slowly(flasher), { rateHz, noise: 0.005 }), rateHz))).not.toContain('turned');
    },
  );

  it.each([10, 50])('at %i Hz by a motor that begins to turn and is stopped by the first compression', (rateHz) => {
    const stops = (t: number) => (during(0, 4)(t) ? 2 + 0.8 * Math.min(1, Math.max(0, (t - 0.15) / 0.3)) : 0);
    const samples = volts(stops, { rateHz, noise: 0.005 });
    expect(formsOf(recordingOf(samples, rateHz, asked(samples, rateHz, 4)))).toEqual(['slow']);
  });

  it('by its current: 700 A at first, though nothing of it shows in the volts of a slow log', () => {
    const samples = volts((t) => (during(0, 2)(t) ? 2 : 0), { rateHz: 10, rest: 12.6 });
    const drawn = (most: number) => ({
      amps: channel(samples.length, 10, (t) => (during(0, 2)(t) ? (t < 0.15 ? most : 250) : 5)),
    });
    expect(formsOf(recordingOf(samples, 10, drawn(700)))).toEqual(['turned']);
    expect(formsOf(recordingOf(samples, 10, drawn(260)))).not.toContain('turned');
  });
});

describe('a motor that meets no load', () => {
  /** An inrush of 5.8 V, then what a large motor draws by itself, less and less. */
  const spins = (left: number) => (t: number) =>
    during(0, 0.9)(t) ? left * (1 + 0.3 * Math.exp(-t / 0.2)) + (5.8 - 1.3 * left) * Math.exp(-t / 0.03) : 0;

  it('draws up to three tenths of its inrush; more is an engine, or nothing that one could name', () => {
    const at = (left: number) => recordingOf(volts(spins(left), { rateHz: 200, rest: 25.1, noise: 0.005 }), 200);
    expect(formsOf(at(1.5))).toEqual(['free_spin']);
    expect(formsOf(at(2.6))).not.toContain('free_spin');
  });

  it('is told by the logged speed from one that sets an engine turning', () => {
    const samples = volts(spins(2.6), { rateHz: 200, rest: 25.1, noise: 0.005 });
    const rpm = channel(samples.length, 200, (t) => (during(0.2, 1)(t) ? 180 : 0));
    expect(formsOf(recordingOf(samples, 200, { rpm }))).toEqual(['turned']);
  });
});

describe('one crank is one row', () => {
  it.each([4, 6])('whose inrush falls %i times as deep as the engine then rolls', (times) => {
    const deep = (t: number) =>
      during(0, 1.4)(t) ? 1.1 + 1.1 * (times - 1) * Math.exp(-t / 0.03) + 0.15 * Math.sin(2 * Math.PI * 7 * t) : 0;
    for (const rateHz of [100, 1000, 5000]) {
      const rows = rowsOf(recordingOf(volts(deep, { rateHz }), rateHz));
      expect(rows.length).toBe(1);
      expect(rows[0]!.crankSeconds).toBeCloseTo(1.4, 1);
    }
  });

  it('at 10 Hz, though contact is lost and regained with a deeper fall than the first that was met', () => {
    const lost = (t: number) => {
      if (!during(0, 2.5)(t) || during(1, 1.1)(t)) return 0;
      return during(1.1, 1.2)(t) ? 5 : during(0, 0.1)(t) ? 3.2 : 2.6 + 0.2 * Math.sin(9 * t);
    };
    expect(formsOf(recordingOf(volts(lost, { rateHz: 10 }), 10))).toEqual(['dropout']);
  });

  it('of chatter whose windings draw half as much as the motor, from its first inrush on', () => {
    const chatter = (t: number) => (during(-0.08, 1.5)(t) ? (t >= 0 && t % 0.15 < 0.04 ? 1.3 : 0.65) : 0);
    for (const rateHz of [200, 2000]) {
      const recording = recordingOf(volts(chatter, { rateHz }), rateHz);
      expect(formsOf(recording)).toEqual(['chatter']);
      expect(Math.abs(onsetOf(recording))).toBeLessThanOrEqual(0.005);
    }
  });

  it('of chatter that a slow log meets now and then while the windings draw', () => {
    const met = [0, 0.04, 0.08, 0.12, 0.8, 0.84, 0.88, 0.92];
    const aliased = (t: number) => {
      if (!during(-0.04, 1.2)(t)) return 0;
      return met.some((at) => Math.abs(t - at - 0.02) < 0.001) ? 9 : met.some((at) => Math.abs(t - at) < 0.001) ? 2 : 2;
    };
    const fast = (t: number) =>
      met.some((at) => Math.abs(t - at) < 0.01) && Math.round(t / 0.04) % 2 === 0 ? 9 : aliased(t);
    expect(formsOf(recordingOf(volts(fast, { rateHz: 25 }), 25))).toEqual(['chatter']);
  });
});

describe('a log of 10 Hz shows neither dip nor ripple', () => {
  const held = (first: number) => (t: number) => (during(0, 4)(t) ? 1.9 + (first - 1.9) * Math.exp(-t / 0.1) : 0);

  it('what falls by more than it then holds, as deep as a starter, is one; an even load is not', () => {
    expect(formsOf(recordingOf(volts(held(2.9), { rateHz: 10 }), 10))).toEqual(['turned']);
    expect(formsOf(recordingOf(volts(held(2), { rateHz: 10 }), 10))).toEqual(['preheat']);
  });
});

describe('a record that begins while the key is held', () => {
  const begun = (fall: number, request: boolean) => {
    const samples = volts((t) => (t < 1 ? fall : 0), { rateHz: 500, noise: 0.005 });
    const on = channel(samples.length, 500, (t) => (t < 1 ? 1 : 0));
    return recordingOf(samples, 500, request ? { startRequest: on } : {});
  };

  it('0.4 V that come back with the end of the request: a solenoid, begun before the record', () => {
    const rows = rowsOf(begun(0.4, true));
    expect(rows.map(({ quality }) => qualityWords(quality))).toEqual(['begun_before_record;no_rest']);
    expect(formsOf(begun(0.4, true))).toEqual(['solenoid_only']);
    expect(formsOf(begun(0.4, false))).toEqual([]);
  });

  it('2 V, even: a starter where it is asked for, some load where nobody says so', () => {
    expect(formsOf(begun(2, true))).toEqual(['turned']);
    expect(formsOf(begun(1.4, false))).toEqual([]);
  });

  it('no word of a request is no word that there was none: a channel that is silent hides no crank', () => {
    const short = volts((t) => (t < -2.3 ? 2.2 + 0.15 * Math.sin(9 * t) : 0), { rateHz: 100 });
    const told = (value: number) =>
      formsOf(recordingOf(short, 100, { startRequest: channel(short.length, 100, () => value) }));
    expect(formsOf(recordingOf(short, 100))).toEqual(['turned']);
    expect(told(Number.NaN)).toEqual(['turned']);
    expect(told(0)).toEqual([]);
  });

  it('and picks up at once: how low it begins tells, not the half of it in which the engine turns by itself', () => {
    const climbs = (t: number) => (t < -2.9 ? 2.4 : t < -2.65 ? 0.9 : t < -2 ? 0 : -1.4);
    expect(formsOf(recordingOf(volts(climbs, { rateHz: 200 }), 200))).toEqual(['turned']);
  });

  it('for a moment only, and is turned again: that is another crank', () => {
    const again = simulateStart({ rateHz: 500, beforeSeconds: 1, openVolts: 12.3 });
    const rest = again.volts[0]!;
    const twice = [...again.volts].map((value, i) => (i < 80 ? rest - 2.2 + 0.4 * Math.sin(i / 11) : value));
    const rows = rowsOf(recordingOf(twice, 500));
    expect(rows.map(({ timeUs }) => Math.round((timeUs - rows[0]!.timeUs) / 1e5))).toEqual([0, 10]);
    expect(rows.map(({ crankSeconds }) => Number.isNaN(crankSeconds))).toEqual([true, false]);
  });

  it('and ends while it is: ripple is enough, a level is not', () => {
    const rolling = (wave: number) => (t: number) => 2.2 + wave * Math.sin(2 * Math.PI * 7 * t);
    const inside = (wave: number) => recordingOf(volts(rolling(wave), { rateHz: 200, seconds: 3 }), 200);
    expect(rowsOf(inside(0.3)).map(({ quality }) => qualityWords(quality))).toEqual([
      expect.stringContaining('ended_after_record'),
    ]);
    expect(formsOf(inside(0))).toEqual([]);
  });

  it('a heater is on, and the start comes while it is: no crank was under way', () => {
    const start = (t: number) => {
      const turning = during(0, 1.2)(t) ? inrush(t, { most: 5, held: 2 }) + 0.2 * Math.sin(2 * Math.PI * 7 * t) : 0;
      return (t < 2 ? 1.3 : 0) + turning;
    };
    const recording = recordingOf(volts(start, { rateHz: 500 }), 500);
    expect(formsOf(recording)).toEqual(['turned']);
    expect(Math.abs(onsetOf(recording))).toBeLessThanOrEqual(0.005);
  });
});

describe('falls near the noise', () => {
  const click = (t: number) => (during(0, 1)(t) ? 0.3 * (1 - Math.exp(-t / 0.003)) : 0);

  it('a click of 0.3 V in noise of 0.07 V is found, and when it began', () => {
    const recording = recordingOf(volts(click, { rateHz: 2000, noise: 0.12 }), 2000);
    expect(formsOf(recording)).toEqual(['solenoid_only']);
    expect(Math.abs(onsetOf(recording))).toBeLessThanOrEqual(0.005);
  });

  it('0.14 V is a click if the current is that of both windings, else some load', () => {
    const samples = volts((t) => (during(0, 1)(t) ? 0.14 : 0), { rateHz: 500, noise: 0.01 });
    const drawn = (amps: number) => ({ amps: channel(samples.length, 500, (t) => (during(0, 1)(t) ? amps : 3)) });
    expect(formsOf(recordingOf(samples, 500, drawn(60)))).toEqual(['solenoid_only']);
    expect(formsOf(recordingOf(samples, 500, drawn(20)))).toEqual([]);
    expect(formsOf(recordingOf(samples, 500))).toEqual([]);
  });

  it('a click half a second after a heater was switched off', () => {
    const after = (t: number) => (t < -0.5 ? 0.5 : 0) + (during(0, 1)(t) ? 0.4 : 0);
    const recording = recordingOf(volts(after, { rateHz: 20 }), 20);
    expect(formsOf(recording)).toContain('solenoid_only');
  });

  it('the flicker of a coarse, noisy sensor is no chatter', () => {
    const blower = (t: number) => (t > 0 ? 0.1 + 0.12 * Math.exp(-t / 0.3) : 0);
    expect(formsOf(recordingOf(volts(blower, { rateHz: 100, noise: 0.03, step: 0.05 }), 100))).toEqual([]);
  });
});
