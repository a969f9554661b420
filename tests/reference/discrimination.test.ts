import { describe, expect, it } from 'vitest';
import { aucAtHorizon } from '../../etl/stats/auc-at-horizon.ts';
import { concordantPairs } from '../../etl/stats/concordant-pairs.ts';
import { harrellC } from '../../etl/stats/harrell-c.ts';
import { unoC } from '../../etl/stats/uno-c.ts';
import { expectClose } from '../support/close.ts';
import { referenceSet } from '../support/reference-data.ts';
import { watchedLives } from '../support/watched-lives.ts';

const ten = watchedLives('ten-lives.csv', 'risk');
const seven = watchedLives('seven-lives.csv', 'score');
const many = watchedLives('forecast-lives.csv', 'p');

describe('Harrell’s C', () => {
  it('of ten lives without ties and of 150 with tied scores, as survival::concordance', () => {
    const set = referenceSet('tenLives');
    expectClose(harrellC(ten), set.published('harrell'), 1e-9);
    expectClose(harrellC(ten), set.computed('harrell'), set.tolerance);
    expectClose(harrellC(many), referenceSet('forecastLives').computed('harrell'), 1e-12);
  });

  it('of seven lives: 11 pairs right, 2 wrong, 1 tied', () => {
    expect(concordantPairs(seven, () => 1)).toEqual({ usable: 14, right: 11.5 });
    expectClose(harrellC(seven), referenceSet('sevenLives').published('harrell'), 1e-9);
  });
});

describe('Uno’s C', () => {
  it.each([5, 7.5, 8.5])('of ten lives up to %d, as survC1 and survival::concordance with n/G2', (until) => {
    const set = referenceSet('tenLives');
    expectClose(unoC(ten, until), set.published(`uno${until}`), 1e-9);
    expectClose(unoC(ten, until), set.computed(`uno${until}`), set.tolerance);
  });

  it('of seven lives without an end, and of 150 up to 90', () => {
    expectClose(unoC(seven, Infinity), referenceSet('sevenLives').published('uno'), 1e-9);
    expectClose(unoC(seven, Infinity), referenceSet('sevenLives').computed('uno'), 1e-12);
    expectClose(unoC(many, 90), referenceSet('forecastLives').computed('uno90'), 1e-9);
  });
});

describe('AUC at a horizon', () => {
  it('of ten and of 150 lives, as the sum over all pairs', () => {
    expectClose(aucAtHorizon(ten, 5), referenceSet('tenLives').computed('auc'), 1e-12);
    expectClose(aucAtHorizon(many, 90), referenceSet('forecastLives').computed('auc'), 1e-9);
  });
});
