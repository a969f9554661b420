import { describe, expect, it } from 'vitest';
import { kaplanMeier } from '../../etl/stats/kaplan-meier.ts';
import { weibullSurvival } from '../../etl/stats/weibull.ts';
import { simulatedLives } from '../support/simulated-lives.ts';

const lives = simulatedLives(400, { shape: 2, scale: 100 }, 9);

describe('Kaplan–Meier', () => {
  it('without censoring or truncation is the share that is left, with the binomial error', () => {
    const exit = Float64Array.of(3, 1, 2, 2, 5);
    const { time, survival, standardError } = kaplanMeier({
      entry: new Float64Array(5),
      exit,
      event: new Uint8Array(5).fill(1),
    });
    expect([...time]).toEqual([1, 2, 3, 5]);
    [0.8, 0.4, 0.2, 0].forEach((share, i) => expect(survival[i]).toBeCloseTo(share, 12));
    expect(standardError[1]).toBeCloseTo(Math.sqrt((0.4 * 0.6) / 5), 12);
    expect(standardError[3]).toBeNaN();
  });

  it('counts at risk as a plain count over all rows does', () => {
    const estimate = kaplanMeier(lives);
    estimate.time.forEach((t, i) => {
      const atRisk = lives.exit.filter((exit, row) => lives.entry[row]! < t && t <= exit).length;
      const failed = lives.exit.filter((exit, row) => exit === t && lives.event[row] === 1).length;
      expect([estimate.atRisk[i], estimate.failed[i]]).toEqual([atRisk, failed]);
    });
    expect(estimate.time.length).toBeGreaterThan(100);
  });

  it('lies about the curve that the lives were drawn from', () => {
    const { time, survival, standardError, atRisk } = kaplanMeier(lives);
    for (let i = 0; i < time.length; i++) {
      if (atRisk[i]! < 20) continue;
      const off = Math.abs(survival[i]! - weibullSurvival(time[i]!, { shape: 2, scale: 100 }));
      expect(off).toBeLessThan(4 * standardError[i]!);
    }
  });

  it('has an interval within 0 and 1 about the estimate, wider with more confidence', () => {
    const [usual, wide] = [kaplanMeier(lives, 0.95), kaplanMeier(lives, 0.99)];
    for (let i = 0; i < usual.time.length; i++) {
      if (Number.isNaN(usual.low[i])) continue;
      const ordered = [0, wide.low[i]!, usual.low[i]!, usual.survival[i]!, usual.high[i]!, wide.high[i]!, 1];
      expect(ordered).toEqual([...ordered].sort((a, b) => a - b));
    }
  });

  it('of lives without a failure is empty', () => {
    const none = kaplanMeier({ entry: Float64Array.of(0), exit: Float64Array.of(3), event: Uint8Array.of(0) });
    expect(none.time.length).toBe(0);
  });

  it('refuses rows that cannot be', () => {
    const event = Uint8Array.of(1);
    expect(() => kaplanMeier({ entry: Float64Array.of(4), exit: Float64Array.of(3), event })).toThrow(
      'kaplanMeier requires a life with 0 ≤ entry < exit, got 4 to 3 (life 0)',
    );
    expect(() => kaplanMeier({ entry: Float64Array.of(0), exit: Float64Array.of(3, 4), event })).toThrow(
      'kaplanMeier requires 2 values, one a life, got 1 (entry)',
    );
    expect(() => kaplanMeier(lives, 1)).toThrow(
      'kaplanMeier requires a confidence between 0 and 1, got 1 (confidence)',
    );
  });
});
