import { describe, expect, it } from 'vitest';
import {
  logRandomDriftSurvival,
  meanRandomDriftSurvival,
  posteriorDrift,
  randomDriftFirstPassage,
} from '../../etl/stats/first-passage.ts';
import { inverseGaussianCdf, logInverseGaussianSurvival } from '../../etl/stats/inverse-gaussian.ts';
import { normalDensity } from '../../etl/stats/normal.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { expectClose } from '../support/close.ts';

const passage = { distance: 2, drift: 0.01, driftSd: 0.003, diffusion: 0.0025 };

/** Density of the first passage, from the same source as the distribution function but another formula. */
function density(t: number, { distance, drift, driftSd, diffusion }: typeof passage): number {
  const spread = diffusion + driftSd * driftSd * t;
  const z = (distance - drift * t) / Math.sqrt(t * spread);
  return (distance / Math.sqrt(t * t * t * spread)) * normalDensity(z);
}

/** Simpson's rule. */
function integral(f: (x: number) => number, from: number, to: number): number {
  const steps = 20_000;
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let i = 1; i < steps; i++) sum += f(from + i * h) * (i % 2 === 1 ? 4 : 2);
  return (sum * h) / 3;
}

describe('first passage with random drift', () => {
  it('is the integral of its density', () => {
    for (const t of [60, 200, 700]) {
      expectClose(
        randomDriftFirstPassage(t, passage),
        integral((x) => density(x, passage), 1e-3, t),
        1e-9,
      );
    }
  });

  it('is the inverse Gaussian where the drift is known', () => {
    const steady = { ...passage, driftSd: 0 };
    const textbook = { mean: 200, shape: 1600 };
    for (const t of [50, 200, 600]) {
      expect(randomDriftFirstPassage(t, steady)).toBe(inverseGaussianCdf(t, textbook));
      expect(logRandomDriftSurvival(t, steady)).toBe(logInverseGaussianSurvival(t, textbook));
      // and comes to it as the uncertainty of the drift goes to 0
      expectClose(randomDriftFirstPassage(t, { ...passage, driftSd: 1e-8 }), inverseGaussianCdf(t, textbook), 1e-8);
    }
  });

  it('averaged over distances is the mean of each, near the limit and far out', () => {
    const drifts = [passage, { ...passage, driftSd: 0 }, { ...passage, drift: -0.02 }, { ...passage, diffusion: 1e-5 }];
    const distances = [0.25, 1, 2, 5, 20];
    for (const drift of drifts)
      for (const t of [0, 7, 63, 400, 1826, 50_000]) {
        const each = distances.map((distance) => Math.exp(logRandomDriftSurvival(t, { ...drift, distance })));
        const mean = each.reduce((sum, survival) => sum + survival, 0) / each.length;
        expectClose(meanRandomDriftSurvival(t, drift, distances), mean, 1e-12);
      }
  });

  it('never reaches 1: a share of the units drifts away', () => {
    // Limit: Φ(μ/τ) + E[exp(2νD/σ²); ν < 0]; at μ/τ = 2 it is 0.98287 with the figures of the second row.
    const late = randomDriftFirstPassage(1e9, { distance: 1.5, drift: 0.02, driftSd: 0.01, diffusion: 0.004 });
    expect(late).toBeCloseTo(0.98287, 5);
    expectClose(
      Math.exp(logRandomDriftSurvival(1e9, { distance: 1.5, drift: 0.02, driftSd: 0.01, diffusion: 0.004 })),
      1 - late,
      1e-9,
    );
  });

  it('away from the limit is reached with probability exp(2νD/σ²) by noise alone', () => {
    const away = { distance: 2, drift: -0.001, driftSd: 0, diffusion: 0.0025 };
    expectClose(randomDriftFirstPassage(1e7, away), Math.exp((2 * -0.001 * 2) / 0.0025), 1e-6);
  });

  it('without drift is reached as reflection says: 2Φ(−D/√(σ²t))', () => {
    // Φ(−1) = 0.15865525393145705
    expectClose(randomDriftFirstPassage(1600, { ...passage, drift: 0, driftSd: 0 }), 2 * 0.15865525393145705, 1e-14);
  });

  it('probability and survival make 1, rise and fall, and begin at 0', () => {
    let before = 0;
    for (let t = 0; t <= 3000; t += 50) {
      const reached = randomDriftFirstPassage(t, passage);
      expectClose(reached + Math.exp(logRandomDriftSurvival(t, passage)), 1, 1e-12);
      expect(reached).toBeGreaterThanOrEqual(before);
      before = reached;
    }
    expect(randomDriftFirstPassage(0, passage)).toBe(0);
    expect(logRandomDriftSurvival(0, passage)).toBe(0);
  });

  it('stays finite where the exponents of the formula overflow', () => {
    const sharp = { distance: 5, drift: 0.01, driftSd: 0.002, diffusion: 1e-9 };
    // Almost no noise: passed by t if the drift is at least D/t = 0.01, the mean.
    expect(randomDriftFirstPassage(500, sharp)).toBeCloseTo(0.5, 3);
    expect(Number.isFinite(logRandomDriftSurvival(500, sharp))).toBe(true);
    const backwards = { distance: 5, drift: -3, driftSd: 0.002, diffusion: 1e-3 };
    expect(randomDriftFirstPassage(500, backwards)).toBe(0);
    expect(logRandomDriftSurvival(500, backwards)).toBeCloseTo(0, 12);
  });

  it('agrees with simulated paths within three standard errors', () => {
    const random = createRandom(12);
    const [t, steps, draws] = [150, 600, 4000];
    let reached = 0;
    for (let draw = 0; draw < draws; draw++) {
      const drift = passage.drift + passage.driftSd * random.normal();
      const step = t / steps;
      let x = 0;
      let survives = 1;
      for (let i = 0; i < steps && survives > 0; i++) {
        const next = x + drift * step + Math.sqrt(passage.diffusion * step) * random.normal();
        // Between two points below the limit the path may have touched it (Brownian bridge).
        const gap = (passage.distance - x) * (passage.distance - next);
        survives = next >= passage.distance ? 0 : survives * -Math.expm1((-2 * gap) / (passage.diffusion * step));
        x = next;
      }
      reached += 1 - survives;
    }
    const expected = randomDriftFirstPassage(t, passage);
    expect(Math.abs(reached / draws - expected)).toBeLessThan(3 * Math.sqrt((expected * (1 - expected)) / draws));
  });

  it('refuses what is no path', () => {
    const refused = (change: object) => () => randomDriftFirstPassage(1, { ...passage, ...change });
    const what = 'randomDriftFirstPassage requires';
    expect(refused({ distance: 0 })).toThrow(`${what} a finite distance above 0, got 0 (distance)`);
    expect(refused({ drift: Infinity })).toThrow(`${what} a finite drift, got Infinity (drift)`);
    expect(refused({ driftSd: -1 })).toThrow(`${what} a finite drift sd of at least 0, got -1 (driftSd)`);
    expect(refused({ diffusion: 0 })).toThrow(`${what} a finite diffusion above 0, got 0 (diffusion)`);
    expect(() => logRandomDriftSurvival(-1, passage)).toThrow(
      'logRandomDriftSurvival requires a finite time of at least 0, got -1 (t)',
    );
    expect(() => inverseGaussianCdf(-1, { mean: 1, shape: 1 })).toThrow(
      'inverseGaussianCdf requires a finite time of at least 0, got -1 (t)',
    );
    expect(() => inverseGaussianCdf(1, { mean: 0, shape: 1 })).toThrow(
      'inverseGaussianCdf requires a mean above 0, got 0 (mean)',
    );
    expect(() => logInverseGaussianSurvival(1, { mean: 1, shape: 0 })).toThrow(
      'logInverseGaussianSurvival requires a finite shape above 0, got 0 (shape)',
    );
  });
});

describe('drift of one unit after its path so far', () => {
  const prior = { drift: 0.01, driftSd: 0.003, diffusion: 0.0025 };

  it('is the prior before anything is seen, and its own rate after a long time', () => {
    expect(posteriorDrift(0, 0, prior)).toEqual({ mean: 0.01, sd: 0.003 });
    const { mean, sd } = posteriorDrift(1e7 * 0.014, 1e7, prior);
    expect(mean).toBeCloseTo(0.014, 6);
    expect(sd).toBeCloseTo(Math.sqrt(0.0025 / 1e7), 7);
  });

  it('taken in two parts is the same as at once', () => {
    const first = posteriorDrift(1.3, 80, prior);
    const then = posteriorDrift(2.1, 120, { drift: first.mean, driftSd: first.sd, diffusion: prior.diffusion });
    const once = posteriorDrift(3.4, 200, prior);
    expectClose(then.mean, once.mean, 1e-12);
    expectClose(then.sd, once.sd, 1e-12);
  });

  it('refuses a time that runs back and a path without noise', () => {
    expect(() => posteriorDrift(1, -1, prior)).toThrow('posteriorDrift requires a time of at least 0, got -1 (time)');
    expect(() => posteriorDrift(1, 1, { ...prior, diffusion: 0 })).toThrow(
      'posteriorDrift requires a diffusion above 0, got 0 (diffusion)',
    );
  });
});
