import { describe, expect, it } from 'vitest';
import { fitRandomDrift, type DegradationPath } from '../../etl/stats/degradation-fit.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { expectClose } from '../support/close.ts';

type Truth = { drift: number; driftSd: number; diffusion: number };

/** Paths of uneven lengths and uneven times. */
function simulatedPaths(count: number, truth: Truth, seed: number): DegradationPath[] {
  const random = createRandom(seed);
  return Array.from({ length: count }, () => {
    const drift = truth.drift + truth.driftSd * random.normal();
    const [time, value] = [[0], [0]];
    const steps = 4 + Math.floor(12 * random.uniform());
    for (let i = 0; i < steps; i++) {
      const run = 5 + 10 * random.uniform();
      time.push(time[i]! + run);
      value.push(value[i]! + drift * run + Math.sqrt(truth.diffusion * run) * random.normal());
    }
    return { time: Float64Array.from(time), value: Float64Array.from(value) };
  });
}

describe('population of drifting paths', () => {
  it('of 600 simulated units gives back what they were drawn from', () => {
    const truth = { drift: 0.02, driftSd: 0.012, diffusion: 0.004 };
    const fit = fitRandomDrift(simulatedPaths(600, truth, 6));
    // Three standard errors: of the mean drift, of both variances by their degrees of freedom.
    expect(Math.abs(fit.drift - truth.drift)).toBeLessThan(3 * Math.sqrt((truth.driftSd ** 2 + 0.004 / 100) / 600));
    expectClose(fit.driftSd, truth.driftSd, 0.1);
    expectClose(fit.diffusion, truth.diffusion, 3 * Math.sqrt(2 / (fit.steps - 600)));
    expect(fit.paths).toBe(600);
  });

  it('with equal plans has the closed form: pooled scatter within, spread of the rates between', () => {
    const paths = [
      [0, 1.1, 1.9, 3.2],
      [0, 0.4, 0.6, 1.1],
      [0, 2.1, 3.9, 6.2],
      [0, 1.4, 3.1, 4.0],
    ].map((values) => ({ time: Float64Array.of(0, 1, 2, 3), value: Float64Array.from(values) }));
    const rates = paths.map(({ value }) => value[3]! / 3);
    const mean = rates.reduce((sum, rate) => sum + rate / 4, 0);
    let within = 0;
    paths.forEach(({ value }, i) => {
      for (let j = 1; j <= 3; j++) within += (value[j]! - value[j - 1]! - rates[i]!) ** 2 / 8;
    });
    const between = rates.reduce((sum, rate) => sum + (rate - mean) ** 2 / 4, 0);
    const fit = fitRandomDrift(paths);
    expectClose(fit.drift, mean, 1e-9);
    expectClose(fit.diffusion, within, 1e-6);
    expectClose(fit.driftSd, Math.sqrt(between - within / 3), 1e-6);
  });

  it('of units that are all alike finds no spread of the drift', () => {
    const alike = Float64Array.of(0, 1, 1, 3);
    const mirrored = Float64Array.of(0, 2, 2, 3);
    const time = Float64Array.of(0, 1, 2, 3);
    const fit = fitRandomDrift([
      { time, value: alike },
      { time, value: mirrored },
    ]);
    expect(fit.driftSd).toBe(0);
    expectClose(fit.drift, 1, 1e-12);
  });

  it('depends on the units of time and value as it should', () => {
    const paths = simulatedPaths(30, { drift: 0.02, driftSd: 0.012, diffusion: 0.004 }, 1);
    const days = fitRandomDrift(paths);
    const years = fitRandomDrift(
      paths.map(({ time, value }) => ({
        time: time.map((day) => day / 365.25),
        value: value.map((volts) => volts * 1000),
      })),
    );
    expectClose(years.drift, days.drift * 365.25e3, 1e-8);
    expectClose(years.driftSd, days.driftSd * 365.25e3, 1e-6);
    expectClose(years.diffusion, days.diffusion * 365.25e6, 1e-6);
  });

  it('only looks at differences', () => {
    const paths = simulatedPaths(10, { drift: 0.02, driftSd: 0.012, diffusion: 0.004 }, 1);
    const shifted = fitRandomDrift(
      paths.map(({ time, value }) => ({ time: time.map((t) => t + 900), value: value.map((x) => x - 5) })),
    );
    expectClose(shifted.logLikelihood, fitRandomDrift(paths).logLikelihood, 1e-9);
  });

  it('refuses what holds no spread to tell', () => {
    const path = { time: Float64Array.of(0, 1), value: Float64Array.of(0, 1) };
    const straight = { time: Float64Array.of(0, 1, 2), value: Float64Array.of(0, 1, 2) };
    expect(() => fitRandomDrift([path])).toThrow('fitRandomDrift requires two paths of two points, got 1 (paths)');
    expect(() => fitRandomDrift([path, path])).toThrow(
      'fitRandomDrift requires a path of three points, got none (paths)',
    );
    expect(() => fitRandomDrift([straight, straight])).toThrow(
      'fitRandomDrift requires paths with noise, got straight lines (paths)',
    );
    expect(() => fitRandomDrift([path, { time: Float64Array.of(0, 0), value: path.value }])).toThrow(
      'fitRandomDrift requires ascending times, got 0 (path 1)',
    );
    expect(() => fitRandomDrift([{ time: path.time, value: Float64Array.of(0, Number.NaN) }, path])).toThrow(
      'fitRandomDrift requires finite values, got NaN (path 0)',
    );
    expect(() => fitRandomDrift([{ time: path.time, value: new Float64Array(3) }, path])).toThrow(
      'fitRandomDrift requires 2 values, one a time, got 3 (path 0)',
    );
  });
});
