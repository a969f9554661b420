/** What follows a crank: its release, and whether the engine ran. Invented falls; the truth is how they were made. */
import { describe, expect, it } from 'vitest';
import { OUTCOMES } from '../../etl/model/words.ts';
import { recordingOf } from './recording-of.ts';
import { formsOf, rowsOf, volts } from './shaped-voltage.ts';

const SECONDS = 1;
/** V below rest while the starter turns four cylinders at 195 rpm. */
const turning = (t: number) => 5 * Math.exp(-t / 0.05) + 2.4 + 0.25 * Math.cos(2 * Math.PI * 6.5 * t);
/** V below rest of a ramp of `rise` V above it, from `from` on within 0.15 s. */
const ramp = (t: number, from: number, rise: number) => -rise * Math.min(1, Math.max(0, (t - from) / 0.15));

describe('release', () => {
  it.each([50, 100, 500, 2000])(
    'at %i Hz it is where the starter lets go, not where the alternator takes over 0.3 s later',
    (rateHz) => {
      const fall = (t: number) => (t < 0 ? 0 : t < SECONDS ? turning(t) : ramp(t, SECONDS + 0.3, 1.9));
      const [row] = rowsOf(recordingOf(volts(fall, { rateHz }), rateHz));
      expect(Math.abs(row!.crankSeconds - SECONDS)).toBeLessThan(Math.max(0.01, 1.5 / rateHz));
    },
  );
});

describe('a short crank at 10 Hz that meets no inrush and no compressions', () => {
  const rateHz = 10;
  const shape = { rateHz, rest: 12.1, noise: 0.01 };
  const short = (t: number) => 2 - t;

  it('is one if the bank is charged after it, if only to 0.8 V over what it rested at', () => {
    const fall = (t: number) => (t < 0 ? 0 : t < SECONDS ? short(t) : t < 1.7 ? 0.3 : ramp(t, 1.7, 0.8));
    expect(formsOf(recordingOf(volts(fall, shape), rateHz))).toEqual(['turned']);
  });

  it('is some load if the bank only comes back', () => {
    const fall = (t: number) => (t < 0 ? 0 : t < SECONDS ? short(t) : t < 1.7 ? 0.3 : 0);
    expect(formsOf(recordingOf(volts(fall, shape), rateHz))).toEqual([]);
  });
});

describe('the outcome', () => {
  const rateHz = 100;
  const outcomeOf = (charged: number, rise = 1.6) => {
    const ran = (t: number) => (t < SECONDS + charged ? ramp(t, SECONDS, rise) : 0.1);
    const fall = (t: number) => (t < 0 ? 0 : t < SECONDS ? turning(t) : ran(t));
    return OUTCOMES[rowsOf(recordingOf(volts(fall, { rateHz, seconds: 12 }), rateHz))[0]!.outcome];
  };

  it('an engine that charges for half a second and stalls has started', () => {
    expect(outcomeOf(0.5)).toBe('started');
  });

  it('one that charges for a moment only is not known to have started, nor to have failed', () => {
    expect(outcomeOf(0.3)).toBeUndefined();
  });

  it('one that never charges has failed', () => {
    expect(outcomeOf(0)).toBe('failed');
  });

  it('a weak alternator that holds the bank over its rest, but not over a full one, leaves it open', () => {
    const fall = (t: number) => (t < 0 ? 0 : t < SECONDS ? turning(t) : ramp(t, SECONDS, 0.7));
    const [row] = rowsOf(recordingOf(volts(fall, { rateHz, rest: 12.1, seconds: 12 }), rateHz));
    expect(OUTCOMES[row!.outcome]).toBeUndefined();
  });
});
