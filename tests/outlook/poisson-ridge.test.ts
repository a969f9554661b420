import { describe, expect, it } from 'vitest';
import { poissonRidgeFit, type PoissonRows } from '../../etl/stats/poisson-ridge.ts';
import { createRandom } from '../../etl/stats/random.ts';

const ones = (count: number) => new Float64Array(count).fill(1);
const coefficients = (rows: PoissonRows, sd: readonly number[]) => poissonRidgeFit(rows, sd).coefficients;

/** Log-likelihood of a hazard in pieces, Σ y·log λ − Λ: the time watched is no part of λ. */
function logLikelihood({ columns, offset, events }: PoissonRows, at: Float64Array): number {
  return offset.reduce((sum, log, row) => {
    const hazard = columns.reduce((total, column, j) => total + at[j]! * column[row]!, 0);
    return sum + events[row]! * hazard - Math.exp(hazard + log);
  }, 0);
}

describe('Poisson regression with an offset', () => {
  it('with a column of ones is the log of events over exposure', () => {
    const exposure = [2, 3, 5];
    const rows = {
      columns: [ones(3)],
      offset: Float64Array.from(exposure, Math.log),
      events: Float64Array.of(1, 0, 3),
      weight: ones(3),
    };
    expect(coefficients(rows, [Infinity])[0]).toBeCloseTo(Math.log(4 / 10), 10);
  });

  it('with two groups gives the log of their rates and of the ratio, by hand', () => {
    const rows = {
      columns: [ones(2), Float64Array.of(0, 1)],
      offset: Float64Array.of(Math.log(100), Math.log(50)),
      events: Float64Array.of(10, 20),
      weight: ones(2),
    };
    const [rate, ratio] = coefficients(rows, [Infinity, Infinity]);
    expect(rate).toBeCloseTo(Math.log(0.1), 9);
    expect(ratio).toBeCloseTo(Math.log(4), 9);
  });

  it('penalised solves Σ y − Σ e^(offset + b) = b / sd² (root by bisection)', () => {
    const rows = { columns: [ones(1)], offset: Float64Array.of(0), events: Float64Array.of(5), weight: ones(1) };
    let [low, high] = [0, 2];
    for (let round = 0; round < 60; round++) {
      const b = (low + high) / 2;
      if (5 - Math.exp(b) - b / 0.25 > 0) low = b;
      else high = b;
    }
    expect(coefficients(rows, [0.5])[0]).toBeCloseTo(low, 9);
  });

  it('stays as it is where rows are split anywhere, and expects as many events as came', () => {
    const random = createRandom(3, 'poisson');
    const x = Float64Array.from({ length: 40 }, () => random.normal());
    const length = Float64Array.from({ length: 40 }, () => 1 + 9 * random.uniform());
    const events = Float64Array.from({ length: 40 }, (_, k) => Number(k % 4 === 0));
    const whole = { columns: [ones(40), x], offset: length.map(Math.log), events, weight: ones(40) };
    const share = length.map(() => 0.1 + 0.8 * random.uniform());
    const split = {
      columns: [ones(80), Float64Array.of(...x, ...x)],
      offset: Float64Array.of(
        ...length.map((days, k) => Math.log(days * share[k]!)),
        ...length.map((days, k) => Math.log(days * (1 - share[k]!))),
      ),
      events: Float64Array.of(...new Float64Array(40), ...events),
      weight: ones(80),
    };
    const one = coefficients(whole, [Infinity, Infinity]);
    const other = coefficients(split, [Infinity, Infinity]);
    other.forEach((b, j) => expect(Math.abs(b - one[j]!)).toBeLessThan(1e-9));
    expect(Math.abs(logLikelihood(split, other) - logLikelihood(whole, one))).toBeLessThan(1e-9);
    const expected = length.reduce((sum, days, k) => sum + days * Math.exp(one[0]! + one[1]! * x[k]!), 0);
    expect(expected).toBeCloseTo(10, 8);
  });

  it('is refused where columns differ in length', () => {
    const rows = { columns: [ones(2)], offset: ones(3), events: ones(3), weight: ones(3) };
    expect(() => coefficients(rows, [1])).toThrow('poissonRidge requires 3 values, one a row, got 2 (rows)');
  });
});

describe('what a fit leaves uncertain', () => {
  const one = { columns: [ones(1)], offset: Float64Array.of(Math.log(4)), events: Float64Array.of(7), weight: ones(1) };

  it('of one coefficient is worked by hand: variance 1 / (e^η + 1 / sd²), the rest decided by the events', () => {
    const sd = 0.5;
    const { coefficients, covariance, effective } = poissonRidgeFit(one, [sd]);
    const expected = 4 * Math.exp(coefficients[0]!);
    expect(covariance[0]).toBeCloseTo(1 / (expected + 1 / sd ** 2), 9);
    expect(effective).toBeCloseTo(expected / (expected + 1 / sd ** 2), 9);
  });

  it('of unpenalised coefficients decides them all; its covariance is that of two groups, by hand', () => {
    const rows = {
      columns: [ones(2), Float64Array.of(0, 1)],
      offset: Float64Array.of(Math.log(100), Math.log(50)),
      events: Float64Array.of(10, 20),
      weight: ones(2),
    };
    const { covariance, effective } = poissonRidgeFit(rows, [Infinity, Infinity]);
    expect(effective).toBeCloseTo(2, 9);
    // var(log rate) = 1/10, var(log ratio) = 1/10 + 1/20, their covariance −1/10.
    [1 / 10, -1 / 10, -1 / 10, 1 / 10 + 1 / 20].forEach((value, k) => expect(covariance[k]).toBeCloseTo(value, 9));
  });

  it('has the evidence of the integral over the prior, to the accuracy of its normal shape', () => {
    const logLikelihood = (b: number) => 7 * (Math.log(4) + b) - 4 * Math.exp(b);
    const integral = (sd: number) => {
      let sum = 0;
      for (let b = -4; b <= 4; b += 0.001)
        sum += (0.001 * Math.exp(logLikelihood(b) - (b / sd) ** 2 / 2)) / (sd * Math.sqrt(2 * Math.PI));
      return Math.log(sum);
    };
    const evidence = (sd: number) => poissonRidgeFit(one, [sd]).logEvidence;
    expect(evidence(0.5) - evidence(0.1)).toBeCloseTo(integral(0.5) - integral(0.1), 1);
    expect(evidence(0.5)).toBeCloseTo(integral(0.5), 1);
  });
});
