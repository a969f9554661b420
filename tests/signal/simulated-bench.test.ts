import { describe, expect, it } from 'vitest';
import { compare, type Comparison } from '../simulated-bench/compare.ts';
import { crankOff, dipOff, finding, hasRolling, hasVolts, isOnsetRight } from '../simulated-bench/scores.ts';
import { restOff, speed, voltsLimit, whole, type Figures } from '../simulated-bench/scores.ts';
import { simulateLogs } from '../simulated-bench/simulate.ts';

/**
 * A small fixed slice of the bench of simulated vehicles: what must not get worse. The whole of it is run by
 * `npm run bench -- cranks`; its figures are kept in tests/bench/artefacts/cranks.json.
 */
const RATES = [100, 200, 1000, 5000];
const slice: Comparison = { checked: [], unfounded: [] };
for (let seed = 1001; seed <= 1060; seed++)
  for (const log of simulateLogs(seed, [RATES[seed % 4]!, RATES[(seed + 2) % 4]!])) {
    const { checked, unfounded } = compare(log);
    slice.checked.push(...checked);
    slice.unfounded.push(...unfounded);
  }
/** Cranks in which the starter turned or tried to turn the engine, without chatter. */
const turned = slice.checked.filter(({ crank }) => ['steady', 'slow', 'long', 'dropout'].includes(crank.pattern));
const share = (some: readonly boolean[]) => some.filter(Boolean).length / some.length;
const within = (off: (each: (typeof turned)[number]) => number, asked: typeof turned) =>
  share(asked.map((each) => Math.abs(off(each)) <= voltsLimit(each)));
const volts = turned.filter(hasVolts);

describe('sixty simulated vehicles at two of 100, 200, 1000 and 5000 Hz', () => {
  it('cranks that turn the engine: recall at least 0.985, precision at least 0.995', () => {
    const figures: Figures = finding({ ...slice, checked: turned });
    expect(figures.cranks).toBeGreaterThan(80);
    expect(figures.recall).toBeGreaterThanOrEqual(0.985);
    expect(finding(slice).precision).toBeGreaterThanOrEqual(0.995);
  });

  it('their onset lies within one sample or 5 ms in 99 of 100', () => {
    expect(share(turned.filter(whole).map(isOnsetRight))).toBeGreaterThanOrEqual(0.99);
  });

  it('rest lies within the step or 20 mV in 99 of 100, from 200 Hz up', () => {
    const rested = volts.filter(({ crank }) => crank.restSeconds >= 0.15);
    expect(within(restOff, rested)).toBeGreaterThanOrEqual(0.99);
  });

  it('the dip is the lowest sample freed of noise within the step or 20 mV in 9 of 10', () => {
    const moved = volts.filter(({ crank }) => !(crank.rpm < 15));
    expect(within(dipOff, moved)).toBeGreaterThanOrEqual(0.9);
  });

  it('cranking volts lie within the step or 20 mV in 3 of 4, half of them within 10 mV', () => {
    const rolled = volts.filter(hasRolling);
    expect(within(crankOff, rolled)).toBeGreaterThanOrEqual(0.75);
    const errors = rolled.map((each) => Math.abs(crankOff(each))).sort((a, b) => a - b);
    expect(errors[errors.length >> 1]).toBeLessThanOrEqual(0.01);
  });

  it('speed: nine in ten answered, median error at most 1 %, none wrong by over 10 %', () => {
    const figures = speed(slice.checked);
    expect(figures.speedsAsked).toBeGreaterThan(20);
    expect(figures.speedAnswered).toBeGreaterThanOrEqual(0.9);
    expect(figures.speedMedianError).toBeLessThanOrEqual(0.01);
    expect(figures.speedOver10).toBe(0);
    expect(figures.speedWithin3).toBeGreaterThanOrEqual(0.85);
  });
});
