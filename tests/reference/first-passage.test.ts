import { describe, expect, it } from 'vitest';
import { fitRandomDrift } from '../../etl/stats/degradation-fit.ts';
import { driftProfile, populationSums } from '../../etl/stats/degradation-likelihood.ts';
import { driftPopulation, ownDrift } from '../../etl/stats/drift-population.ts';
import {
  logRandomDriftSurvival,
  meanRandomDriftSurvival,
  posteriorDrift,
  randomDriftFirstPassage,
} from '../../etl/stats/first-passage.ts';
import { inverseGaussianCdf, logInverseGaussianSurvival } from '../../etl/stats/inverse-gaussian.ts';
import { expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

describe('inverse Gaussian distribution', () => {
  const { mean, shape, t } = referenceColumns('inverse-gaussian.csv', ['mean', 'shape', 't']);
  const { computedList, tolerance } = referenceSet('inverseGaussian');

  it.each([...t.keys()])('row %i equals the integral of the density (R integrate)', (i) => {
    const parameters = { mean: mean[i]!, shape: shape[i]! };
    const expected = computedList('cdf')[i]!;
    expectClose(inverseGaussianCdf(t[i]!, parameters), expected, tolerance);
    expectClose(Math.exp(logInverseGaussianSurvival(t[i]!, parameters)), 1 - expected, tolerance * 100);
  });

  it('keeps its far tail where exp(2·shape/mean) overflows: mean 1, shape 500, log S(10) = −2031.777536', () => {
    const logSurvival = logInverseGaussianSurvival(10, { mean: 1, shape: 500 });
    expect(logSurvival).toBeCloseTo(-2031.777536, 6);
    expectClose(logSurvival, referenceSet('inverseGaussianOverflow').computed('logSurvival'), 1e-9);
    expect(inverseGaussianCdf(10, { mean: 1, shape: 500 })).toBe(1);
    const alike = { drift: 1, driftSd: 0, diffusion: 1 / 500 };
    expectClose(logRandomDriftSurvival(10, { ...alike, distance: 1 }), logSurvival, 1e-12);
    expect(meanRandomDriftSurvival(10, alike, [1])).toBe(0);
  });
});

describe('first passage with random drift', () => {
  const columns = referenceColumns('random-drift.csv', ['distance', 'drift', 'driftSd', 'diffusion', 't']);
  const { computedList, tolerance } = referenceSet('randomDrift');

  it.each([...columns.t.keys()])('row %i equals the inverse Gaussian averaged over the drift (R integrate)', (i) => {
    const { distance, drift, driftSd, diffusion, t } = columns;
    const passage = { distance: distance[i]!, drift: drift[i]!, driftSd: driftSd[i]!, diffusion: diffusion[i]! };
    const expected = computedList('cdf')[i]!;
    expectClose(randomDriftFirstPassage(t[i]!, passage), expected, tolerance);
    expectClose(-Math.expm1(logRandomDriftSurvival(t[i]!, passage)), expected, tolerance);
    // What outlooks ask for, here with one distance. Near 1 the difference has fewer digits.
    expect(Math.abs(1 - meanRandomDriftSurvival(t[i]!, passage, [distance[i]!]) - expected)).toBeLessThan(1e-12);
  });
});

describe('GaAs lasers, 15 units over 4000 h (Meeker & Escobar 1998, Table C.17)', () => {
  const { unit, hours, increase } = referenceColumns('laser.csv', ['unit', 'hours', 'increase']);
  const path = (id: number) => ({
    time: hours.filter((_, i) => unit[i] === id),
    value: increase.filter((_, i) => unit[i] === id),
  });
  const fit = fitRandomDrift([...new Set(unit)].map(path));
  const { computed, tolerance } = referenceSet('laser');

  it.each(['drift', 'driftSd', 'diffusion', 'logLikelihood'] as const)('%s agrees with R optim', (name) => {
    expectClose(fit[name], computed(name), tolerance);
  });

  it('all taken to be alike are independent steps: drift, diffusion and log-likelihood agree with R dnorm', () => {
    const alike = referenceSet('laserAlike');
    const found = driftProfile(populationSums('test', [...new Set(unit)].map(path), 2), 0);
    for (const name of ['drift', 'diffusion', 'logLikelihood'] as const)
      expectClose(found[name], alike.computed(name), alike.tolerance);
    // One drift for all is beyond belief: twice the difference is 47 on one degree of freedom.
    expect(2 * (fit.logLikelihood - found.logLikelihood)).toBeGreaterThan(40);
  });

  it('half of the population passes 10 % by 4893 h, a tenth by 3811 h, nine tenths by 6746 h', () => {
    const passage = { ...fit, distance: 10 };
    expect(randomDriftFirstPassage(3810.68, passage)).toBeCloseTo(0.1, 5);
    expect(randomDriftFirstPassage(4892.99, passage)).toBeCloseTo(0.5, 5);
    expect(randomDriftFirstPassage(6745.66, passage)).toBeCloseTo(0.9, 5);
  });

  it('unit 110, at 6.256 % after 2000 h, is taken to drift faster than the others', () => {
    const { mean, sd } = posteriorDrift(6.256, 2000, fit);
    expect(mean).toBeCloseTo(2.854948e-3, 8);
    expect(sd).toBeCloseTo(2.0907e-4, 8);
  });

  it('and with the population not known but averaged over, as R by a sum over 302,560 populations', () => {
    const averaged = referenceSet('laserPopulation');
    const paths = [...new Set(unit)].map(path);
    const own = ownDrift(6.256, 2000, driftPopulation(paths, 100));
    expectClose(own.drift, averaged.computed('drift'), 2e-4);
    // The diffusion is taken at its mean here.
    expectClose(own.driftSd, averaged.computed('driftSd'), 0.005);
    // Seven nodes, as the program takes.
    expectClose(ownDrift(6.256, 2000, driftPopulation(paths)).drift, averaged.computed('drift'), 1e-3);
    expectClose(ownDrift(6.256, 2000, driftPopulation(paths)).driftSd, averaged.computed('driftSd'), 0.01);
  });
});
