import { describe, expect, it } from 'vitest';
import { createRandom } from '../../etl/stats/random.ts';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { addPrior, checkedLives, weibullLikelihood } from '../../etl/stats/weibull-likelihood.ts';
import { weibullPosteriorGrid } from '../../etl/stats/weibull-posterior.ts';
import { weibullCumulativeHazard, weibullSurvival, type Weibull } from '../../etl/stats/weibull.ts';
import { expectClose } from '../support/close.ts';
import { expectDerivatives } from '../support/derivatives.ts';
import { simulatedLives } from '../support/simulated-lives.ts';

/** Two thirds of the failures known only to lie between inspections, which come every 300 from a random day on. */
function inspectedLives(count: number, weibull: Weibull, seed: number): Lives {
  const lives = simulatedLives(count, weibull, seed);
  const random = createRandom(seed, 'inspections');
  const exit = lives.exit.slice();
  const failedAfter = lives.exit.map((end, i) => {
    if (lives.event[i] === 0 || random.uniform() < 1 / 3) return end;
    const first = lives.entry[i]! - 300 * random.uniform();
    const before = first + 300 * Math.floor((end - first) / 300);
    exit[i] = before + 300;
    return Math.max(lives.entry[i]!, before);
  });
  return { ...lives, exit, failedAfter };
}

const truth = { shape: 2.4, scale: 1300 };
const lives = inspectedLives(300, truth, 5);

/** Every row cut at an arbitrary age up to which it certainly worked; the last piece alone can hold the failure. */
function split({ entry, exit, event, failedAfter }: Lives): Lives {
  const random = createRandom(11);
  const rows = [...exit].flatMap((to, i) => {
    const cut = entry[i]! + random.uniform() * (failedAfter![i]! - entry[i]!);
    const last = { from: entry[i]!, to, failed: event[i]!, after: failedAfter![i]! };
    return cut > entry[i]!
      ? [
          { from: entry[i]!, to: cut, failed: 0, after: cut },
          { ...last, from: cut },
        ]
      : [last];
  });
  return {
    entry: Float64Array.from(rows, ({ from }) => from),
    exit: Float64Array.from(rows, ({ to }) => to),
    event: Uint8Array.from(rows, ({ failed }) => failed),
    failedAfter: Float64Array.from(rows, ({ after }) => after),
  };
}

describe('failures known only to lie between two times', () => {
  const known = checkedLives('test', lives);
  const at = (u: number, b: number) => weibullLikelihood(known, u, b);

  it.each([
    [7.1, 0.8],
    [6.2, 1.9],
    [9, -0.4],
  ])('have the gradient and Hessian that differences give, at %d and %d', (u, b) => {
    expectDerivatives(at, u, b);
  });

  it('have the likelihood written out: the survival they lost in between, over that at entry', () => {
    const weibull = { shape: Math.exp(0.8), scale: Math.exp(7.1) };
    const one = { entry: 200, exit: 1500, failedAfter: 900 };
    const lost = weibullSurvival(one.failedAfter, weibull) - weibullSurvival(one.exit, weibull);
    const rows = {
      entry: Float64Array.of(one.entry),
      exit: Float64Array.of(one.exit),
      event: Uint8Array.of(1),
      failedAfter: Float64Array.of(one.failedAfter),
    };
    const found = weibullLikelihood(checkedLives('test', rows), 7.1, 0.8).value;
    expectClose(found, Math.log(lost / weibullSurvival(one.entry, weibull)), 1e-12);
  });

  it('leave likelihood and fit unchanged when every row is split at an arbitrary age', () => {
    const parts = split(lives);
    expect(parts.exit.length).toBeGreaterThan(550);
    expectClose(weibullLikelihood(checkedLives('test', parts), 7.1, 0.8).value, at(7.1, 0.8).value, 1e-12);
    const [whole, cut] = [fitWeibull(lives), fitWeibull(parts)];
    expectClose(cut.shape, whole.shape, 1e-9);
    expectClose(cut.scale, whole.scale, 1e-9);
    expectClose(cut.logLikelihood, whole.logLikelihood, 1e-9);
  });

  it('come to the density of a known time as the interval shrinks', () => {
    const width = 1e-5;
    const rows = { entry: Float64Array.of(0), exit: Float64Array.of(700), event: Uint8Array.of(1) };
    const narrow = { ...rows, failedAfter: Float64Array.of(700 - width) };
    const value = (of: Lives) => weibullLikelihood(checkedLives('test', of), 7.1, 0.8).value;
    expectClose(value(narrow) - Math.log(width), value(rows), 1e-6);
  });

  it('of 4,000 simulated lives, truncated and inspected, give the truth within three standard errors', () => {
    for (const [weibull, seed] of [
      [{ shape: 2.4, scale: 1300 }, 17],
      [{ shape: 0.8, scale: 700 }, 18],
      [{ shape: 4.5, scale: 900 }, 19],
    ] as const) {
      const fit = fitWeibull(inspectedLives(4000, weibull, seed));
      expect(fit.converged).toBe(true);
      expect(Math.abs(Math.log(fit.scale / weibull.scale))).toBeLessThan(3 * Math.sqrt(fit.covariance[0][0]));
      expect(Math.abs(Math.log(fit.shape / weibull.shape))).toBeLessThan(3 * Math.sqrt(fit.covariance[1][1]));
    }
  });

  it('must lie between entry and exit', () => {
    const wrong = { ...lives, failedAfter: lives.exit.map((exit) => exit + 1) };
    expect(() => fitWeibull(wrong)).toThrow(
      /^fitWeibull requires a failure after entry, by exit, got .* \(life \d+\)$/,
    );
    expect(() => fitWeibull({ ...lives, failedAfter: new Float64Array(2) })).toThrow(
      'fitWeibull requires 300 values, one a life, got 2 (failedAfter)',
    );
  });
});

describe('the sum of the cumulative hazards over the time watched', () => {
  it('is the number of failures of an unpenalised fit to the last digits', () => {
    const exact = simulatedLives(500, truth, 8);
    const fit = fitWeibull(exact);
    const sum = exact.exit.reduce(
      (total, exit, i) => total + weibullCumulativeHazard(exit, fit) - weibullCumulativeHazard(exact.entry[i]!, fit),
      0,
    );
    expectClose(sum, fit.events, 1e-9);
  });
});

describe('posterior grid with failures between two times', () => {
  const prior = { logShapeMean: Math.log(2.5), logShapeSd: 0.3, logScaleMean: Math.log(1500), logScaleSd: 0.4 };

  /** The same average by a plain sum over a fine grid of (log scale, log shape). */
  function bruteForce(rows: Lives, t: number): number {
    const known = checkedLives('test', rows);
    const value = (u: number, b: number) => addPrior(weibullLikelihood(known, u, b), prior, u, b).value;
    const top = fitWeibull(rows, { prior });
    const highest = value(Math.log(top.scale), Math.log(top.shape));
    let [above, below] = [0, 0];
    for (let u = 4.5; u < 10.5; u += 0.02)
      for (let b = -1; b < 2.6; b += 0.02) {
        const weight = Math.exp(value(u, b) - highest);
        above += weight * weibullSurvival(t, { shape: Math.exp(b), scale: Math.exp(u) });
        below += weight;
      }
    return above / below;
  }

  it.each([
    ['one, seen at its inspection alone', { ...lives, ...first(1) }],
    ['eight lives', inspectedLives(8, truth, 3)],
    ['left-censored lives alone', { ...leftCensored() }],
  ])('averages survival as a sum over 54,000 points does: %s', (_, rows) => {
    const { shape, scale, weight } = weibullPosteriorGrid(rows, { prior });
    for (const t of [100, 700, 1500, 3000]) {
      const averaged = weight.reduce(
        (sum, w, i) => sum + w * weibullSurvival(t, { shape: shape[i]!, scale: scale[i]! }),
        0,
      );
      expect(Math.abs(averaged - bruteForce(rows, t))).toBeLessThan(1.5e-3);
    }
  });

  function first(count: number): Lives {
    const entry = new Float64Array(count);
    const exit = new Float64Array(count).fill(1400);
    return { entry, exit, event: new Uint8Array(count).fill(1), failedAfter: new Float64Array(count).fill(300) };
  }
  function leftCensored(): Lives {
    return { ...first(5), failedAfter: new Float64Array(5) };
  }
});
