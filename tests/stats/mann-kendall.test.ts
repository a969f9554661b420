import { describe, expect, it } from 'vitest';
import { mannKendall } from '../../etl/stats/mann-kendall.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { theilSen } from '../../etl/stats/theil-sen.ts';
import { expectClose } from '../support/close.ts';

/** Share of 300 series without trend, each value `carried` from the one before, that a test at 5 % calls a trend. */
function falseAlarms(carried: number): { plain: number; corrected: number } {
  const random = createRandom(31);
  let [plain, corrected] = [0, 0];
  for (let draw = 0; draw < 300; draw++) {
    let value = random.normal() / Math.sqrt(1 - carried * carried);
    const y = Float64Array.from({ length: 100 }, () => (value = carried * value + random.normal()));
    const test = mannKendall(y);
    if (test.pValue < 0.05) plain++;
    if (test.correctedPValue < 0.05) corrected++;
  }
  return { plain: plain / 300, corrected: corrected / 300 };
}

describe('Mann–Kendall test', () => {
  it('of seven points of which one pair falls: S 19, variance 44 1/3', () => {
    const test = mannKendall(Float64Array.of(1, 2, 3, 4, 5, 16, 7));
    expect(test.score).toBe(19);
    expectClose(test.variance, (7 * 6 * 19) / 18, 1e-14);
    expectClose(test.z, 18 / Math.sqrt(44 + 1 / 3), 1e-14);
  });

  it('changes sign with the series and is blind to its scale', () => {
    const random = createRandom(2);
    const y = Float64Array.from({ length: 60 }, (_, i) => 0.02 * i + random.normal());
    const [plain, turned] = [mannKendall(y), mannKendall(y.map((value) => 7 - 3 * value))];
    expect(turned.score).toBe(-plain.score);
    expect(turned.pValue).toBe(plain.pValue);
    expectClose(turned.correctedPValue, plain.correctedPValue, 1e-12);
  });

  it('keeps its level of 5 % where points are independent', () => {
    const { plain, corrected } = falseAlarms(0);
    // Three standard errors of a share of 0.05 in 300 draws.
    expect(Math.abs(plain - 0.05)).toBeLessThan(0.038);
    expect(corrected).toBeLessThanOrEqual(plain);
  });

  it('takes resemblance of neighbours for a trend unless it is corrected', () => {
    const { plain, corrected } = falseAlarms(0.5);
    expect(plain).toBeGreaterThan(0.18);
    expect(corrected).toBeLessThan(0.6 * plain);
  });

  it('never grows more certain than independent points would be', () => {
    const swing = Float64Array.from({ length: 40 }, (_, i) => (i % 2) + i / 100);
    const test = mannKendall(swing);
    expect(test.correctedVariance).toBe(test.variance);
  });

  it('takes the slope that the caller has already', () => {
    const random = createRandom(3);
    const times = Float64Array.from({ length: 50 }, (_, i) => i * 7);
    const y = times.map((t) => 0.01 * t + random.normal());
    expect(mannKendall(y, { times, slope: theilSen(times, y).slope })).toEqual(mannKendall(y, { times }));
  });

  it('refuses what has no order', () => {
    expect(() => mannKendall(Float64Array.of(1, 2, 3))).toThrow('mannKendall requires at least 4 points, got 3 (y)');
    expect(() => mannKendall(new Float64Array(5))).toThrow(
      'mannKendall requires values that are not all equal, got 0 (y)',
    );
    expect(() => mannKendall(Float64Array.of(1, 2, Number.NaN, 4))).toThrow(
      'mannKendall requires finite values, got NaN (y[2])',
    );
    expect(() => mannKendall(Float64Array.of(1, 2, 3, 4), { times: Float64Array.of(1, 2, 2, 3) })).toThrow(
      'mannKendall requires ascending times, got 2 then 2 (times[2])',
    );
    expect(() => mannKendall(Float64Array.of(1, 2, 3, 4), { times: Float64Array.of(1) })).toThrow(
      'mannKendall requires 4 times, one a value, got 1 (times)',
    );
  });
});
