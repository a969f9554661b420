import { describe, expect, it } from 'vitest';
import { fitWeibullClasses } from '../../etl/stats/weibull-classes.ts';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { checkedLives, weibullLikelihood } from '../../etl/stats/weibull-likelihood.ts';
import { expectClose } from '../support/close.ts';
import { simulatedLives } from '../support/simulated-lives.ts';

const long = simulatedLives(400, { shape: 2, scale: 1500 }, 1);
const short = simulatedLives(400, { shape: 2, scale: 900 }, 2);
const few = simulatedLives(6, { shape: 2, scale: 400 }, 3);
const prior = { logShapeMean: Math.log(2.2), logShapeSd: 0.4, logScaleMean: Math.log(1200), logScaleSd: 0.5 };

function together(...all: Lives[]): Lives {
  const join = (of: (lives: Lives) => Float64Array) => Float64Array.from(all.flatMap((lives) => [...of(lives)]));
  return {
    entry: join(({ entry }) => entry),
    exit: join(({ exit }) => exit),
    event: Uint8Array.from(all.flatMap(({ event }) => [...event])),
  };
}

describe('classes of Weibull lives', () => {
  it('all held to the whole: the fit of all lives together, prior and covariance too', () => {
    const fit = fitWeibullClasses([long, short], { prior, scaleSd: [0, 0], shapeSd: [0, 0] });
    const whole = fitWeibull(together(long, short), { prior });
    expectClose(fit.scale, whole.scale, 1e-9);
    expectClose(fit.shape, whole.shape, 1e-9);
    expectClose(fit.logLikelihood, whole.logLikelihood, 1e-12);
    expectClose(fit.covariance[0][0], whole.covariance[0][0], 1e-6);
    expectClose(fit.covariance[1][1], whole.covariance[1][1], 1e-6);
    expect(fit.events).toBe(whole.events);
  });

  it('all free but one: each has the fit of its own', () => {
    const fit = fitWeibullClasses([long, short], { scaleSd: [0, Infinity], shapeSd: [0, Infinity] });
    [long, short].forEach((lives, c) => {
      expectClose(fit.classes[c]!.scale, fitWeibull(lives).scale, 1e-7);
      expectClose(fit.classes[c]!.shape, fitWeibull(lives).shape, 1e-7);
    });
  });

  it('partially pooled: a class of six lies between its own fit and the others, one of four hundred at its own', () => {
    const fit = fitWeibullClasses([long, short, few], { prior, scaleSd: [0.25, 0.25, 0.25], shapeSd: [0.1, 0.1, 0.1] });
    const own = fitWeibull(few).scale;
    expect(fit.classes[2]!.scale).toBeGreaterThan(1.05 * own);
    expect(fit.classes[2]!.scale).toBeLessThan(0.95 * fit.scale);
    expectClose(fit.classes[0]!.scale, fitWeibull(long).scale, 0.02);
    expectClose(fit.classes[1]!.scale, fitWeibull(short).scale, 0.02);
  });

  it('stand where every derivative of the posterior is nothing', () => {
    const options = { prior, scaleSd: [0.25, 0.3], shapeSd: [0.1, 0.2] };
    const fit = fitWeibullClasses([long, few], options);
    const sums = [long, few].map((lives, c) => {
      const { scale, shape } = fit.classes[c]!;
      return weibullLikelihood(checkedLives('test', lives), Math.log(scale), Math.log(shape));
    });
    sums.forEach((at, c) => {
      expect(at.u - Math.log(fit.classes[c]!.scale / fit.scale) / options.scaleSd[c]! ** 2).toBeCloseTo(0, 6);
      expect(at.b - Math.log(fit.classes[c]!.shape / fit.shape) / options.shapeSd[c]! ** 2).toBeCloseTo(0, 6);
    });
    const drawn = (Math.log(fit.scale) - prior.logScaleMean) / prior.logScaleSd ** 2;
    expect(sums[0]!.u + sums[1]!.u - drawn).toBeCloseTo(0, 6);
  });

  it('say when the whole is not determined: all free and no prior', () => {
    expect(
      fitWeibullClasses([long, short], { scaleSd: [Infinity, Infinity], shapeSd: [Infinity, Infinity] }).converged,
    ).toBe(false);
  });

  it('without lives are the prior', () => {
    const fit = fitWeibullClasses([], { prior, scaleSd: [], shapeSd: [] });
    expectClose(fit.scale, 1200, 1e-9);
    expectClose(fit.shape, 2.2, 1e-9);
    expectClose(fit.covariance[0][0], 0.25, 1e-9);
  });

  it('refuse sds that are no sds, and lives that hold nothing', () => {
    const held = { scaleSd: [0], shapeSd: [0] };
    expect(() => fitWeibullClasses([long, short], held)).toThrow(
      'fitWeibullClasses requires 2 values, one a class, got 1 (scaleSd)',
    );
    expect(() => fitWeibullClasses([long], { scaleSd: [0], shapeSd: [-1] })).toThrow(
      'fitWeibullClasses requires an sd of at least 0, got -1 (shapeSd)',
    );
    const none = { entry: Float64Array.of(0), exit: Float64Array.of(9), event: Uint8Array.of(0) };
    expect(() => fitWeibullClasses([none], held)).toThrow(
      'fitWeibullClasses requires a failure or a prior for the scale, got 0 failures (lives)',
    );
  });
});
