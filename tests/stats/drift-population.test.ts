import { describe, expect, it } from 'vitest';
import { fitRandomDrift, type DegradationPath } from '../../etl/stats/degradation-fit.ts';
import { driftPopulation, ownDrift, type WeightedDrift } from '../../etl/stats/drift-population.ts';
import { posteriorDrift } from '../../etl/stats/first-passage.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { expectClose } from '../support/close.ts';

function simulatedPaths(count: number, seed: number): DegradationPath[] {
  const random = createRandom(seed);
  return Array.from({ length: count }, () => {
    const drift = 0.02 + 0.012 * random.normal();
    const time = Float64Array.from({ length: 9 }, (_, k) => 10 * k);
    const value = new Float64Array(9);
    for (let k = 1; k < 9; k++) value[k] = value[k - 1]! + 10 * drift + Math.sqrt(0.004 * 10) * random.normal();
    return { time, value };
  });
}

const mean = (nodes: readonly WeightedDrift[], of: (node: WeightedDrift) => number) =>
  nodes.reduce((sum, node) => sum + node.weight * of(node), 0);

/** log density of one path of even steps: increments are normal with a covariance that the drift shares. */
function logDensity({ time, value }: DegradationPath, [drift, tau, sigma2]: readonly [number, number, number]): number {
  const steps = time.length - 1;
  const run = time[1]! - time[0]!;
  const total = time[steps]! - time[0]!;
  let squares = 0;
  for (let k = 1; k <= steps; k++) squares += (value[k]! - value[k - 1]! - drift * run) ** 2;
  const off = value[steps]! - value[0]! - drift * total;
  const spread = sigma2 + tau * tau * total;
  // Sherman & Morrison on sigma2·run·I + tau²·run²·J.
  const quadratic = squares / (sigma2 * run) - (tau * tau * off * off) / (sigma2 * spread);
  return -0.5 * (steps * Math.log(sigma2 * run) + Math.log(spread / sigma2) + quadratic);
}

/** A plain sum over drift, tau (both flat) and log sigma2: what a unit's own drift is under all of them. */
function bruteForce(paths: readonly DegradationPath[], displacement: number, time: number) {
  const at = (d: number, t: number, v: number) => paths.reduce((sum, path) => sum + logDensity(path, [d, t, v]), 0);
  const { drift, driftSd, diffusion } = fitRandomDrift(paths);
  const top = at(drift, driftSd, diffusion);
  let [weight, first, second] = [0, 0, 0];
  for (let d = -0.05; d <= 0.09; d += 0.002)
    for (let t = 0.0005; t < 0.1; t += 0.001)
      for (let v = -6.6; v < -4.4; v += 0.05) {
        const own = Math.exp(at(d, t, Math.exp(v)) - top);
        const posterior = posteriorDrift(displacement, time, { drift: d, driftSd: t, diffusion: Math.exp(v) });
        weight += own;
        first += own * posterior.mean;
        second += own * (posterior.sd ** 2 + posterior.mean ** 2);
      }
  return { mean: first / weight, sd: Math.sqrt(second / weight - (first / weight) ** 2) };
}

describe('what the paths leave uncertain about their population', () => {
  it('agrees with a sum over drift, spread and diffusion, seven paths', () => {
    const paths = simulatedPaths(7, 3);
    const brute = bruteForce(paths, 0.8, 20);
    const own = ownDrift(0.8, 20, driftPopulation(paths, 25));
    expectClose(own.drift, brute.mean, 0.01);
    expectClose(own.driftSd, brute.sd, 0.02);
  });

  it('is told by seven nodes nearly as by seventy', () => {
    const paths = simulatedPaths(12, 4);
    const [few, many] = [7, 70].map((count) => ownDrift(0.8, 20, driftPopulation(paths, count)));
    expectClose(few!.drift, many!.drift, 0.005);
    expectClose(few!.driftSd, many!.driftSd, 0.01);
  });

  it('is wider than the fit with few paths, and the fit itself with many', () => {
    const few = simulatedPaths(6, 1);
    const fit = fitRandomDrift(few);
    const spread = (nodes: readonly WeightedDrift[]) => Math.sqrt(mean(nodes, (node) => node.driftSd ** 2));
    expect(spread(driftPopulation(few))).toBeGreaterThan(1.15 * fit.driftSd);
    const many = simulatedPaths(3000, 2);
    const whole = fitRandomDrift(many);
    const population = driftPopulation(many);
    expectClose(spread(population), whole.driftSd, 0.003);
    expectClose(
      mean(population, (node) => node.diffusion),
      whole.diffusion,
      0.003,
    );
    expectClose(ownDrift(1, 40, population).drift, posteriorDrift(1, 40, whole).mean, 0.003);
    expectClose(ownDrift(1, 40, population).driftSd, posteriorDrift(1, 40, whole).sd, 0.003);
  });

  it('weighs its nodes equally, to a sum of 1', () => {
    const population = driftPopulation(simulatedPaths(8, 5), 5);
    expect(population).toHaveLength(5);
    population.forEach(({ weight }) => expectClose(weight, 0.2, 1e-9));
  });

  it('of paths that may all be alike still allows for some spread between them', () => {
    const time = Float64Array.of(0, 1, 2, 3);
    const paths = Array.from({ length: 6 }, (_, k) => ({
      time,
      value: k % 2 === 0 ? Float64Array.of(0, 1, 1, 3) : Float64Array.of(0, 2, 2, 3),
    }));
    expect(fitRandomDrift(paths).driftSd).toBe(0);
    const population = driftPopulation(paths);
    population.forEach(({ driftSd }) => expect(driftSd).toBeGreaterThan(0));
    expectClose(
      mean(population, (node) => node.drift),
      1,
      1e-9,
    );
  });

  it('does not hang on the units of time and value', () => {
    const paths = simulatedPaths(9, 6);
    const years = paths.map(({ time, value }) => ({
      time: time.map((t) => t / 365.25),
      value: value.map((x) => 40 * x),
    }));
    const [a, b] = [driftPopulation(paths), driftPopulation(years)];
    a.forEach((node, k) => expectClose(b[k]!.driftSd, node.driftSd * 365.25 * 40, 1e-6));
  });

  it('refuses few paths and paths without noise', () => {
    const straight = { time: Float64Array.of(0, 1, 2), value: Float64Array.of(0, 1, 2) };
    expect(() => driftPopulation(simulatedPaths(4, 1))).toThrow(
      'driftPopulation requires five paths of two points, got 4 (paths)',
    );
    const lines = Array.from({ length: 5 }, (_, k) => ({ ...straight, value: straight.value.map((x) => k * x) }));
    for (const paths of [Array.from({ length: 5 }, () => straight), lines])
      expect(() => driftPopulation(paths)).toThrow(
        'driftPopulation requires paths with noise, got straight lines (paths)',
      );
  });
});
