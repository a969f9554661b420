import { describe, expect, it } from 'vitest';
import { createRandom } from '../../etl/stats/random.ts';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { addPrior, checkedLives, weibullLikelihood } from '../../etl/stats/weibull-likelihood.ts';
import { expectClose } from '../support/close.ts';
import { expectDerivatives } from '../support/derivatives.ts';
import { simulatedLives } from '../support/simulated-lives.ts';

const lives = simulatedLives(300, { shape: 2.4, scale: 1300 }, 5);

function livesOf(rows: readonly (readonly [entry: number, exit: number, event: 0 | 1])[]): Lives {
  return {
    entry: Float64Array.from(rows, (row) => row[0]),
    exit: Float64Array.from(rows, (row) => row[1]),
    event: Uint8Array.from(rows, (row) => row[2]),
  };
}

/** Every row cut once or twice at arbitrary ages; only the last piece can end in the failure. */
function split({ entry, exit, event }: Lives): Lives {
  const random = createRandom(11);
  const rows: [number, number, 0 | 1][] = [];
  for (let i = 0; i < exit.length; i++) {
    const cuts = [random.uniform(), random.uniform()]
      .map((share) => entry[i]! + share * (exit[i]! - entry[i]!))
      .sort((a, b) => a - b);
    const ages = [entry[i]!, ...cuts.filter((cut) => cut > entry[i]! && cut < exit[i]!), exit[i]!];
    for (let j = 1; j < ages.length; j++)
      rows.push([ages[j - 1]!, ages[j]!, j === ages.length - 1 && event[i] === 1 ? 1 : 0]);
  }
  return livesOf(rows);
}

describe('Weibull likelihood', () => {
  const known = checkedLives('test', lives);
  const prior = { logShapeMean: 0.7, logShapeSd: 0.4, logScaleMean: 7, logScaleSd: 0.5 };
  const at = (u: number, b: number) => addPrior(weibullLikelihood(known, u, b), prior, u, b);

  it('has the gradient and Hessian that differences give', () => {
    expectDerivatives(at, 7.1, 0.8);
  });

  it('is unchanged by splitting every life at arbitrary ages', () => {
    const whole = weibullLikelihood(known, 7.1, 0.8).value;
    expectClose(weibullLikelihood(checkedLives('test', split(lives)), 7.1, 0.8).value, whole, 1e-12);
  });
});

describe('Weibull fit', () => {
  it('is unchanged by splitting every life at arbitrary ages: truncation and censoring are consistent', () => {
    const [whole, parts] = [fitWeibull(lives), fitWeibull(split(lives))];
    expectClose(parts.shape, whole.shape, 1e-9);
    expectClose(parts.scale, whole.scale, 1e-9);
    expectClose(parts.logLikelihood, whole.logLikelihood, 1e-9);
    expect(parts.events).toBe(whole.events);
  });

  it('with the shape fixed at 1 is exposure over failures, the exponential estimate', () => {
    const fit = fitWeibull(
      livesOf([
        [0, 10, 1],
        [2, 7, 0],
        [0, 4, 1],
        [5, 9, 0],
      ]),
      { fixedShape: 1 },
    );
    expectClose(fit.scale, (10 + 5 + 4 + 4) / 2, 1e-12);
    // Variance of the log scale of an exponential: 1 over the failures.
    expectClose(fit.covariance[0][0], 1 / 2, 1e-9);
    expect(fit.covariance[1]).toEqual([0, 0]);
    expect(fit.shape).toBe(1);
  });

  it('finds the parameters of 4,000 simulated truncated lives within three standard errors', () => {
    for (const weibull of [
      { shape: 2.4, scale: 1300 },
      { shape: 0.8, scale: 400 },
      { shape: 4.5, scale: 60 },
    ]) {
      const fit = fitWeibull(simulatedLives(4000, weibull, 17));
      const off = [Math.log(fit.scale / weibull.scale), Math.log(fit.shape / weibull.shape)];
      expect(fit.converged).toBe(true);
      expect(Math.abs(off[0]!)).toBeLessThan(3 * Math.sqrt(fit.covariance[0][0]));
      expect(Math.abs(off[1]!)).toBeLessThan(3 * Math.sqrt(fit.covariance[1][1]));
    }
  });

  it('scales with the unit of time', () => {
    const months = { ...lives, entry: lives.entry.map((day) => day / 30.4), exit: lives.exit.map((day) => day / 30.4) };
    expectClose(fitWeibull(months).scale * 30.4, fitWeibull(lives).scale, 1e-9);
    expectClose(fitWeibull(months).shape, fitWeibull(lives).shape, 1e-9);
  });

  it('counts a weight of 3 as three rows', () => {
    const rows = [
      [0, 10, 1],
      [2, 7, 0],
      [0, 4, 1],
    ] as const;
    const thrice = fitWeibull(livesOf([...rows, rows[2], rows[2]]));
    const weighted = fitWeibull({ ...livesOf(rows), weight: Float64Array.of(1, 1, 3) });
    expectClose(weighted.shape, thrice.shape, 1e-9);
    expectClose(weighted.scale, thrice.scale, 1e-9);
    expect(weighted.events).toBe(4);
  });

  it('with no failure at all rests on the prior, moved up by the time survived', () => {
    const prior = { logShapeMean: Math.log(2.5), logShapeSd: 0.3, logScaleMean: Math.log(1500), logScaleSd: 0.4 };
    const young = fitWeibull(livesOf([[0, 10, 0]]), { prior });
    const old = fitWeibull(
      livesOf([
        [0, 1500, 0],
        [0, 1800, 0],
        [0, 1200, 0],
      ]),
      { prior },
    );
    expectClose(young.scale, 1500, 1e-3);
    expect(old.scale).toBeGreaterThan(1600);
    expect(old.converged).toBe(true);
    expect(old.events).toBe(0);
  });

  it('yields to many lives and clings to the prior with few', () => {
    const prior = { logShapeMean: Math.log(5), logShapeSd: 0.2 };
    expectClose(fitWeibull(simulatedLives(4000, { shape: 2, scale: 900 }, 3), { prior }).shape, 2, 0.1);
    expect(fitWeibull(simulatedLives(5, { shape: 2, scale: 900 }, 3), { prior }).shape).toBeGreaterThan(3);
  });

  it('says so when the likelihood climbs for ever', () => {
    expect(fitWeibull(livesOf([[0, 10, 1]])).converged).toBe(false);
    expect(
      fitWeibull(
        livesOf([
          [0, 10, 1],
          [0, 5, 0],
        ]),
      ).converged,
    ).toBe(false);
  });

  it('refuses lives that hold nothing to fit', () => {
    const shapePrior = { logShapeMean: 1, logShapeSd: 0.3 };
    const nothing = 'fitWeibull requires a failure or a prior for the scale, got 0 failures (lives)';
    expect(() => fitWeibull(livesOf([[0, 10, 0]]))).toThrow(nothing);
    expect(() => fitWeibull(livesOf([]), { prior: shapePrior })).toThrow(nothing);
  });

  it('refuses rows and priors that cannot be', () => {
    expect(() => fitWeibull(livesOf([[5, 5, 1]]))).toThrow(
      'fitWeibull requires a life with 0 ≤ entry < exit, got 5 to 5 (life 0)',
    );
    expect(() => fitWeibull({ ...livesOf([[0, 5, 1]]), weight: Float64Array.of(-1) })).toThrow(
      'fitWeibull requires weights of at least 0, got -1 (life 0)',
    );
    expect(() => fitWeibull({ ...livesOf([[0, 5, 1]]), entry: new Float64Array(2) })).toThrow(
      'fitWeibull requires 1 values, one a life, got 2 (entry)',
    );
    expect(() => fitWeibull(lives, { fixedShape: 0 })).toThrow(
      'fitWeibull requires a finite shape above 0, got 0 (fixedShape)',
    );
    expect(() => fitWeibull(lives, { prior: { logShapeMean: 1, logShapeSd: 0 } })).toThrow(
      'fitWeibull requires a finite sd above 0, got 0 (prior.logShapeSd)',
    );
    expect(() => fitWeibull(lives, { prior: { logShapeMean: Number.NaN, logShapeSd: 1 } })).toThrow(
      'fitWeibull requires a finite mean, got NaN (prior.logShapeMean)',
    );
    expect(() => fitWeibull(lives, { prior: { logShapeMean: 1, logShapeSd: 1, logScaleMean: 7 } })).toThrow(
      'fitWeibull requires mean and sd of the log scale together, got one of them (prior)',
    );
  });
});
