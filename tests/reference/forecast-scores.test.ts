import { describe, expect, it } from 'vitest';
import { brierScore, brierSkill } from '../../etl/stats/brier-score.ts';
import { calibrationGroups, groupEdges } from '../../etl/stats/calibration-groups.ts';
import { calibrationInTheLarge } from '../../etl/stats/calibration-in-the-large.ts';
import { calibrationLine } from '../../etl/stats/calibration-line.ts';
import { horizonWeights } from '../../etl/stats/censoring-weights.ts';
import { chiSquareTail } from '../../etl/stats/chi-square.ts';
import { dCalibration } from '../../etl/stats/d-calibration.ts';
import { intervalScore } from '../../etl/stats/interval-score.ts';
import { windowCoverage } from '../../etl/stats/window-coverage.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceSet } from '../support/reference-data.ts';
import { watchedLives } from '../support/watched-lives.ts';

const ten = watchedLives('ten-lives.csv', 'risk');
const many = watchedLives('forecast-lives.csv', 'p');
const toy = referenceSet('tenLives');
const large = referenceSet('forecastLives');

describe('Brier score with censoring weights', () => {
  it('of ten lives at 5: weights, score, that of a constant forecast, skill (by hand and riskRegression)', () => {
    expectAllClose(horizonWeights(ten, 5), toy.computedList('weight'), 1e-12);
    const constant = { ...ten, pFail: ten.pFail.map(() => 1 - 0.675) };
    expectClose(brierScore(ten, 5), toy.published('brier'), 1e-12);
    expectClose(brierScore(constant, 5), toy.published('constant'), 1e-12);
    expectClose(brierSkill(brierScore(ten, 5), brierScore(constant, 5)), toy.published('skill'), 1e-9);
  });

  it('of 150 lives at 90, as R', () => expectClose(brierScore(many, 90), large.computed('brier'), large.tolerance));
});

describe('calibration', () => {
  it('in the large: failures that came over those expected', () => {
    const { observed, expected, ratio } = calibrationInTheLarge(many, 90);
    expectClose(observed, large.computed('observed'), large.tolerance);
    expectClose(expected, large.computed('expected'), large.tolerance);
    expect(ratio).toBe(observed / expected);
    expectClose(calibrationInTheLarge(ten, 5).observed, toy.computed('observed'), 1e-12);
  });

  it('slope and intercept, as glm', () => {
    const line = calibrationLine(many, 90);
    expectClose(line.slope, large.computed('slope'), large.tolerance);
    expectClose(line.intercept, large.computed('intercept'), 1e-7);
  });

  it('by groups: mean forecast beside one minus Kaplan–Meier', () => {
    const groups = calibrationGroups(many, 90, groupEdges(many.pFail, 5));
    expectAllClose(
      groups.map((group) => group!.forecast),
      large.computedList('groupForecast'),
      1e-12,
    );
    expectAllClose(
      groups.map((group) => group!.observed),
      large.computedList('groupObserved'),
      1e-9,
    );
  });
});

describe('D-calibration', () => {
  it('of four lives: a censored one is spread over what lies below it (Haider and others 2020)', () => {
    const { bins } = dCalibration(Float64Array.of(0.05, 0.15, 0.95, 0.5), Uint8Array.of(1, 1, 1, 0));
    expectAllClose(bins, [1.2, 1.2, 0.2, 0.2, 0.2, 0, 0, 0, 0, 1], 1e-12);
  });

  it('a life cut off inside a bin leaves there what lies below it', () => {
    const { bins } = dCalibration(Float64Array.of(0.55), Uint8Array.of(0));
    expectAllClose(bins, [...Array<number>(5).fill(0.1 / 0.55), 0.05 / 0.55, 0, 0, 0, 0], 1e-12);
  });

  it('its p-value has one degree of freedom less than bins: of two bins 2Φ(−√x), of three exp(−x/2)', () => {
    const lives = (counts: number[]) => counts.flatMap((n, bin) => Array<number>(n).fill((bin + 0.5) / counts.length));
    const [two, three] = [lives([5, 15]), lives([10, 4, 4])].map((each, k) =>
      dCalibration(Float64Array.from(each), new Uint8Array(each.length).fill(1), k + 2),
    );
    expect([two!.chiSquare, three!.chiSquare]).toEqual([5, expect.closeTo(4, 12)]);
    expectClose(two!.pValue, 0.02534731867746824, 1e-12); // erfc(√2.5), by the C library
    expectClose(three!.pValue, Math.exp(-2), 1e-12);
  });

  it('chi-square of the bins of 227 lung patients under a Weibull fit: 3.4208, p 0.9453', () => {
    const bins = [21.06, 21.96, 25.42, 19.86, 21.93, 22.59, 29.71, 23.08, 21.37, 20];
    const expected = bins.reduce((sum, bin) => sum + bin, 0) / 10;
    const chiSquare = bins.reduce((sum, bin) => sum + (bin - expected) ** 2 / expected, 0);
    expectClose(chiSquare, 3.4208, 1e-3);
    expectClose(chiSquareTail(3.4208, 9), 0.9453, 1e-4);
  });

  it('the tail of chi-square, as pchisq', () => {
    const { computedList, tolerance } = referenceSet('chiSquare');
    const tails = [
      [0.5, 3],
      [3.4208, 9],
      [30, 9],
      [200, 40],
    ].map(([x, degrees]) => chiSquareTail(x!, degrees!));
    expectAllClose(tails, computedList('value'), tolerance);
  });
});

describe('windows', () => {
  it('interval score of 5 to 9 with the truth at 10, alpha 0.2: 14 (Gneiting & Raftery 2007)', () => {
    expectClose(intervalScore({ low: 5, high: 9 }, 10, 0.2), 14, 1e-12);
  });

  it('coverage where lives were cut off: Kaplan–Meier over the forecast’s own scale, as survfit', () => {
    const u = many.time.map((time) => time / 300);
    const covered = windowCoverage(u, many.event, { early: 0.1, late: 0.6 });
    expectClose(covered.before, large.computed('before'), large.tolerance);
    expectClose(covered.inside!, large.computed('inside'), large.tolerance);
    expectClose(covered.before + covered.inside! + covered.after!, 1, 1e-12);
  });
});
