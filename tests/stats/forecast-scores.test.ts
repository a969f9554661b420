import { describe, expect, it } from 'vitest';
import { aalenJohansen } from '../../etl/stats/aalen-johansen.ts';
import { aucAtHorizon } from '../../etl/stats/auc-at-horizon.ts';
import { brierScore, brierSkill } from '../../etl/stats/brier-score.ts';
import { calibrationGroups, groupEdges } from '../../etl/stats/calibration-groups.ts';
import { calibrationInTheLarge } from '../../etl/stats/calibration-in-the-large.ts';
import { calibrationLine } from '../../etl/stats/calibration-line.ts';
import { stillWatched } from '../../etl/stats/censoring-weights.ts';
import { chiSquareTail } from '../../etl/stats/chi-square.ts';
import { concordantPairs, type Scored } from '../../etl/stats/concordant-pairs.ts';
import { dCalibration } from '../../etl/stats/d-calibration.ts';
import { harrellC } from '../../etl/stats/harrell-c.ts';
import { intervalScore } from '../../etl/stats/interval-score.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { unoC } from '../../etl/stats/uno-c.ts';
import { windowCoverage } from '../../etl/stats/window-coverage.ts';

const columns = (time: number[], event: number[], score: number[]) => ({
  time: Float64Array.from(time),
  event: Uint8Array.from(event),
  score: Float64Array.from(score),
  pFail: Float64Array.from(score),
});

/** Whole days and few scores, so that times and scores are tied in every way. */
function tied(seed: number, count: number): Scored {
  const random = createRandom(seed, 'tied');
  const rows = Array.from({ length: count }, () => [
    1 + Math.floor(12 * random.uniform()),
    Number(random.uniform() < 0.5),
    Math.floor(5 * random.uniform()) / 5,
  ]);
  return columns(
    rows.map((row) => row[0]!),
    rows.map((row) => row[1]!),
    rows.map((row) => row[2]!),
  );
}

describe('pairs', () => {
  it('are counted as by looking at every pair, ties and all', () => {
    for (const seed of [1, 2, 3]) {
      const rows = tied(seed, 80);
      let [usable, right] = [0, 0];
      for (let i = 0; i < 80; i++)
        for (let j = 0; j < 80; j++) {
          const shorter = rows.time[i]! < rows.time[j]! || (rows.time[i] === rows.time[j] && rows.event[j] === 0);
          if (rows.event[i] !== 1 || !shorter || i === j) continue;
          usable += 1;
          right += rows.score[i]! > rows.score[j]! ? 1 : rows.score[i] === rows.score[j] ? 0.5 : 0;
        }
      expect(concordantPairs(rows, () => 1)).toEqual({ usable, right });
    }
  });

  it('turn round with the score; a constant score gets half', () => {
    const rows = tied(4, 60);
    const turned = { ...rows, score: rows.score.map((score) => -score) };
    expect(harrellC(rows) + harrellC(turned)).toBeCloseTo(1, 12);
    expect(unoC(rows, 9) + unoC(turned, 9)).toBeCloseTo(1, 12);
    expect(aucAtHorizon(rows, 6) + aucAtHorizon(turned, 6)).toBeCloseTo(1, 12);
    expect(harrellC({ ...rows, score: rows.score.map(() => 3) })).toBe(0.5);
  });

  it('weighed are the same where nobody was lost sight of', () => {
    const rows = { ...tied(5, 60), event: new Uint8Array(60).fill(1) };
    expect(unoC(rows, Infinity)).toBeCloseTo(harrellC(rows), 12);
    expect(stillWatched(rows).at(12)).toBe(1);
  });
});

describe('chance of still being watched', () => {
  it('counts a failure before a censoring of the same day', () => {
    const watched = stillWatched(columns([1, 2, 2, 3], [1, 1, 0, 0], [0, 0, 0, 0]));
    expect([watched.at(1), watched.before(2), watched.at(2), watched.before(3), watched.at(3)]).toEqual([
      1, 1, 0.5, 0.5, 0,
    ]);
  });
});

describe('Brier score and calibration', () => {
  const rows = columns([10, 20, 30, 40], [1, 1, 0, 0], [0.9, 0.4, 0.3, 0.1]);

  it('without censoring is the plain mean of squares', () => {
    expect(brierScore(rows, 25)).toBeCloseTo((0.01 + 0.36 + 0.09 + 0.01) / 4, 12);
    expect(brierSkill(0.1, 0.2)).toBe(0.5);
  });

  it('finds the line that the failures were drawn from', () => {
    const random = createRandom(6, 'line');
    const many = Array.from({ length: 20_000 }, () => 4 * random.uniform() - 3);
    const chance = (x: number) => 1 / (1 + Math.exp(-x));
    const failed = many.map((x) => random.uniform() < chance(0.4 + 0.7 * x));
    const drawn = columns(
      failed.map((each) => (each ? 5 : 50)),
      failed.map(Number),
      many.map(chance),
    );
    const { slope } = calibrationLine(drawn, 25);
    expect(Math.abs(slope - 0.7)).toBeLessThan(0.05);
    const right = { ...drawn, pFail: Float64Array.from(many, (x) => chance(0.4 + 0.7 * x)) };
    expect(Math.abs(calibrationLine(right, 25).intercept)).toBeLessThan(0.05);
    expect(Math.abs(calibrationInTheLarge(right, 25).ratio - 1)).toBeLessThan(0.03);
  });

  it('groups hold every row once; equal forecasts are one group', () => {
    const groups = calibrationGroups(rows, 25, groupEdges(rows.pFail, 2));
    expect(groups.map((group) => group!.rows)).toEqual([2, 2]);
    expect(groupEdges(Float64Array.of(0.1, 0.1, 0.1), 10)).toEqual([0.1, Infinity]);
    expect(calibrationGroups(rows, 25, [0.01, Infinity])[0]).toBeNull();
  });
});

describe('windows', () => {
  it('where every life was followed are counted', () => {
    const random = createRandom(7, 'u');
    const u = Float64Array.from({ length: 500 }, () => random.uniform());
    const covered = windowCoverage(u, new Uint8Array(500).fill(1));
    expect(covered.inside).toBeCloseTo(u.filter((value) => value >= 0.1 && value < 0.9).length / 500, 12);
    expect(covered.before).toBeCloseTo(u.filter((value) => value < 0.1).length / 500, 12);
  });

  it('hold 80 % of uniform failures also where half were cut off', () => {
    const random = createRandom(8, 'cut');
    const lives = Array.from({ length: 4000 }, () => [random.uniform(), random.uniform()] as const);
    const covered = windowCoverage(
      Float64Array.from(lives, ([failed, cut]) => Math.min(failed, cut)),
      Uint8Array.from(lives, ([failed, cut]) => Number(failed <= cut)),
    );
    expect(Math.abs(covered.inside! - 0.8)).toBeLessThan(0.04);
  });

  it('of lives that nobody followed so far are not told', () => {
    const covered = windowCoverage(Float64Array.of(0.05, 0.2, 0.3, 0.4), Uint8Array.of(1, 0, 0, 0));
    expect(covered).toEqual({ before: 0.25, inside: null, after: null, atBeginning: 3, atEnd: 0 });
  });
});

describe('refusals', () => {
  const one = columns([1], [1], [0.5]);
  const none = columns([], [], []);
  it.each<[string, () => unknown]>([
    ['harrellC requires a pair whose order is known, got 0 (rows)', () => harrellC(one)],
    ['unoC requires a failure before the time, outlived by another, got 0 (rows)', () => unoC(one, 9)],
    [
      'aucAtHorizon requires a failure by the horizon and a life beyond it, got no failure (rows)',
      () => aucAtHorizon({ ...one, time: Float64Array.of(9) }, 5),
    ],
    [
      'concordantPairs requires finite scores, got NaN (score[0])',
      () => harrellC({ ...one, score: Float64Array.of(NaN) }),
    ],
    ['stillWatched requires a time above 0, got 0 (time[0])', () => stillWatched(columns([0], [1], [0]))],
    ['brierScore requires at least one row, got 0 (rows)', () => brierScore(none, 5)],
    ['brierScore requires a probability from 0 to 1, got 2 (pFail[0])', () => brierScore(columns([1], [1], [2]), 5)],
    ['brierSkill requires a reference above 0, got 0 (reference)', () => brierSkill(0.1, 0)],
    [
      'calibrationLine requires some that failed and some that did not, got 1 of 1 (rows)',
      () => calibrationLine(one, 5),
    ],
    [
      'calibrationLine requires forecasts that differ, got equal ones (pFail)',
      () => calibrationLine(columns([1, 9], [1, 0], [0.5, 0.5]), 5),
    ],
    [
      'calibrationInTheLarge requires failures expected, got 0 (pFail)',
      () => calibrationInTheLarge(columns([1], [1], [0]), 5),
    ],
    ['dCalibration requires two bins or more, got 1 (count)', () => dCalibration(one.score, one.event, 1)],
    ['dCalibration requires at least one life, got 0 (survival)', () => dCalibration(none.score, none.event)],
    ['chiSquareTail requires a value of at least 0, got -1 (x)', () => chiSquareTail(-1, 3)],
    ['intervalScore requires low ≤ high, got 9 to 5 (window)', () => intervalScore({ low: 9, high: 5 }, 7, 0.2)],
    ['intervalScore requires an alpha between 0 and 1, got 1 (alpha)', () => intervalScore({ low: 5, high: 9 }, 7, 1)],
    ['windowCoverage requires at least one life, got 0 (u)', () => windowCoverage(none.score, none.event)],
    [
      'aalenJohansen requires a life with 0 ≤ entry < exit, got 3 to 3 (life 0)',
      () => aalenJohansen({ entry: Float64Array.of(3), exit: Float64Array.of(3), cause: Uint8Array.of(1) }),
    ],
  ])('%s', (message, ask) => expect(ask).toThrow(message));
});
