import { describe, expect, it } from 'vitest';
import { addPrior, checkedLives, weibullLikelihood } from '../../etl/stats/weibull-likelihood.ts';
import { weibullPosteriorGrid, type WeibullPosterior } from '../../etl/stats/weibull-posterior.ts';
import { fitWeibull, type Lives } from '../../etl/stats/weibull-fit.ts';
import { weibullSurvival } from '../../etl/stats/weibull.ts';
import { simulatedLives } from '../support/simulated-lives.ts';

const prior = { logShapeMean: Math.log(2.5), logShapeSd: 0.3, logScaleMean: Math.log(1500), logScaleSd: 0.4 };

function survival({ shape, scale, weight }: WeibullPosterior, t: number): number {
  return weight.reduce((sum, w, i) => sum + w * weibullSurvival(t, { shape: shape[i]!, scale: scale[i]! }), 0);
}

/** The same average by a plain sum over a fine grid of (log scale, log shape). */
function bruteForce(lives: Lives, t: number): number {
  const known = checkedLives('test', lives);
  let [above, below] = [0, 0];
  const top = fitWeibull(lives, { prior });
  const at = (u: number, b: number) => addPrior(weibullLikelihood(known, u, b), prior, u, b).value;
  const highest = at(Math.log(top.scale), Math.log(top.shape));
  for (let u = 4.5; u < 10.5; u += 0.02) {
    for (let b = -1; b < 2.6; b += 0.02) {
      const weight = Math.exp(at(u, b) - highest);
      above += weight * weibullSurvival(t, { shape: Math.exp(b), scale: Math.exp(u) });
      below += weight;
    }
  }
  return above / below;
}

describe('posterior grid of a Weibull', () => {
  it.each([
    ['no failure', { entry: Float64Array.of(0, 400), exit: Float64Array.of(900, 1300), event: Uint8Array.of(0, 0) }],
    ['one failure', { entry: Float64Array.of(0, 400), exit: Float64Array.of(900, 1300), event: Uint8Array.of(0, 1) }],
    ['twenty lives', simulatedLives(20, { shape: 2, scale: 900 }, 2)],
  ])('averages survival as a sum over 54,000 points does: %s', (_, lives) => {
    const grid = weibullPosteriorGrid(lives, { prior });
    for (const t of [100, 700, 1500, 3000]) {
      expect(Math.abs(survival(grid, t) - bruteForce(lives, t))).toBeLessThan(1e-3);
    }
  });

  it('weighs its nodes to a sum of 1, and keeps them few', () => {
    const { weight } = weibullPosteriorGrid(simulatedLives(200, { shape: 2, scale: 900 }, 2), { prior });
    expect(weight.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 12);
    expect(weight.length).toBeLessThan(120);
  });

  it('needs no prior where the lives say enough, and then comes to the fit with many of them', () => {
    const lives = simulatedLives(4000, { shape: 2, scale: 900 }, 2);
    expect(survival(weibullPosteriorGrid(lives), 700)).toBeCloseTo(weibullSurvival(700, fitWeibull(lives)), 3);
  });

  it('is wider than the fit alone: the early and the late tail are both heavier', () => {
    const lives = simulatedLives(12, { shape: 2, scale: 900 }, 2);
    const grid = weibullPosteriorGrid(lives, { prior });
    const fit = fitWeibull(lives, { prior });
    expect(survival(grid, 100)).toBeLessThan(weibullSurvival(100, fit));
    expect(survival(grid, 3000)).toBeGreaterThan(weibullSurvival(3000, fit));
  });

  it('refuses a likelihood without a maximum', () => {
    const lives = { entry: Float64Array.of(0), exit: Float64Array.of(10), event: Uint8Array.of(1) };
    expect(() => weibullPosteriorGrid(lives)).toThrow(
      'weibullPosteriorGrid requires a likelihood with a maximum, got none (lives)',
    );
  });
});
