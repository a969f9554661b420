import { describe, expect, it } from 'vitest';
import { failureProbability, SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { PIECE_ENDS, type HazardModel, type HazardRow } from '../../etl/outlook/hazard-model.ts';
import { FOLLOWED_DAYS } from '../../etl/outlook/landmarks.ts';
import { fitLaterHazard, LATER_ENDS, laterSurvival } from '../../etl/outlook/later-hazard.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { windowCoverage } from '../../etl/stats/window-coverage.ts';

/** A model that changes nothing: the forecast as it stands. */
const MODEL: HazardModel = {
  columns: [{ name: 'level', mean: 0, sd: 1, coefficient: 0 }],
  covariance: [0],
  failures: 40,
  effective: 1,
};

type Part = { rate: number; days: number; failed: boolean };

/** Hazard per day after three months over that of the forecast, which is constant; `expected` is its cumulative hazard. */
type Truth = (expected: number) => number;

/** Parts of many rates, each followed two years at most; in steps of a day. */
function parts(count: number, truth: Truth, seed = 1): Part[] {
  const random = createRandom(seed, 'later');
  return Array.from({ length: count }, () => {
    const rate = 0.0003 * Math.exp(1.2 * random.normal());
    const followed = 200 + Math.floor(528 * random.uniform());
    let left = -Math.log(random.uniform());
    for (let day = 1; day <= followed; day++) {
      left -= rate * (day <= FOLLOWED_DAYS ? 1 : truth(rate * day));
      if (left < 0) return { rate, days: day, failed: true };
    }
    return { rate, days: followed, failed: false };
  });
}

function rowOf({ rate, days, failed }: Part): HazardRow {
  const later = LATER_ENDS.filter((_, k) => days > (LATER_ENDS[k - 1] ?? FOLLOWED_DAYS));
  return {
    day: 20_454,
    yearsAgo: 0,
    followedDays: Math.min(FOLLOWED_DAYS, days),
    failed: failed && days <= FOLLOWED_DAYS,
    watched: { days, failed, expected: later.map((end) => rate * end) },
    weight: 1,
    expected: PIECE_ENDS.map((end) => rate * end),
    class: 'van',
    ageDays: 1000,
    condition: {},
    troubles: 0,
  };
}

const curveOf = (rate: number) => Float64Array.from(SURVIVAL_DAYS, (days) => Math.exp(-rate * days));
const fitted = (fleet: readonly Part[]) => fitLaterHazard(fleet.map(rowOf), MODEL);
/** Wear goes on while the forecast stays flat: the longer a part was expected to have failed, the sooner it does. */
const RISING: Truth = (expected) => 2 * (expected / 0.3) ** 0.8;

describe('what the past says of the time after three months', () => {
  it('is nothing without a fit of the first three months, or where nothing was watched longer', () => {
    expect(fitLaterHazard(parts(50, () => 1).map(rowOf), null)).toBeNull();
    expect(fitLaterHazard([rowOf({ rate: 0.001, days: 91, failed: false })], MODEL)).toBeNull();
  });

  it('is next to nothing where forecasts were right', () => {
    const later = fitted(parts(6000, () => 1))!;
    for (const each of Object.values(later)) expect(Math.abs(each)).toBeLessThan(0.15);
  });

  it('is the level by which forecasts were too low', () => {
    const later = fitted(parts(6000, () => 2))!;
    expect(later.level).toBeCloseTo(Math.log(2), 1);
    expect(Math.abs(later.rise)).toBeLessThan(0.15);
  });

  it('is the rise of what wears on', () => {
    const later = fitted(parts(6000, RISING))!;
    expect(later.rise).toBeGreaterThan(0.6);
    expect(later.rise).toBeLessThan(1);
  });

  it('of a single failure moves no forecast far', () => {
    const fleet = parts(40, () => 0).map((part, k) => (k === 7 ? { ...part, failed: true } : part));
    const survival = laterSurvival(curveOf(0.001), fitted(fleet));
    expect(failureProbability(survival, 728)).toBeGreaterThan(0.25);
    expect(failureProbability(survival, 728)).toBeLessThan(0.75);
  });
});

describe('a forecast under it', () => {
  const later = fitted(parts(6000, RISING))!;

  it('is the same to the last digit in the first three months', () => {
    const [before, after] = [curveOf(0.002), laterSurvival(curveOf(0.002), later)];
    const last = SURVIVAL_DAYS.indexOf(FOLLOWED_DAYS);
    expect(after.slice(0, last + 1)).toEqual(before.slice(0, last + 1));
    expect(after[last + 20]).not.toBe(before[last + 20]);
  });

  it('never rises, whatever the coefficients', () => {
    for (const each of [later, { level: -3, rise: -2, ahead: -2 }, { level: 3, rise: 2, ahead: 2 }]) {
      const survival = laterSurvival(curveOf(0.002), each);
      for (let k = 1; k < survival.length; k++) expect(survival[k]).toBeLessThanOrEqual(survival[k - 1]!);
    }
  });

  it('has windows that hold 80 % of parts it has never seen, where the forecast as it was held too many', () => {
    const unseen = parts(4000, RISING, 2);
    const inside = (change: typeof later | null) => {
      const u = unseen.map(({ rate, days }) => failureProbability(laterSurvival(curveOf(rate), change), days));
      return windowCoverage(
        Float64Array.from(u),
        Uint8Array.from(unseen, ({ failed }) => Number(failed)),
      );
    };
    expect(inside(later).before).toBeCloseTo(0.1, 1);
    expect(inside(later).inside).toBeGreaterThan(0.75);
    expect(inside(later).inside).toBeLessThan(0.85);
    expect(inside(null).before + (inside(null).after ?? 0)).toBeLessThan(0.13);
  });
});
