import { describe, expect, it } from 'vitest';
import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { hazardForecast, type HazardCase } from '../../etl/outlook/hazard-forecast.ts';
import { fitHazard, PIECE_ENDS, type HazardModel, type HazardRow } from '../../etl/outlook/hazard-model.ts';
import { FOLLOWED_DAYS } from '../../etl/outlook/landmarks.ts';
import { createRandom } from '../../etl/stats/random.ts';

const DAY = 20_454;
/** Failures a day that the forecast as it stands expects of everyone. */
const RATE = 1 / 1000;

const rowOf = (known: Partial<HazardRow> = {}): HazardRow => ({
  day: DAY,
  yearsAgo: 0,
  followedDays: FOLLOWED_DAYS,
  failed: false,
  watched: { days: FOLLOWED_DAYS, failed: false, expected: [] },
  weight: 1,
  expected: PIECE_ENDS.map((days) => days * RATE),
  class: 'van',
  ageDays: 1000,
  condition: {},
  troubles: 0,
  ...known,
});

/** Rows of a fleet in which the true hazard is the forecast's times a factor that hangs on the row. */
function rowsOf(count: number, factor: (row: HazardRow) => number, seed = 1): HazardRow[] {
  const random = createRandom(seed, 'hazard');
  return Array.from({ length: count }, (_, index) => {
    const sag = random.normal();
    const row = rowOf({
      day: DAY - (index % 700),
      class: index % 3 === 0 ? 'bus' : 'van',
      condition: { 'log_sag_ratio now': sag, 'rest_volts now': random.normal() },
    });
    const days = -Math.log(random.uniform()) / (RATE * factor({ ...row }));
    return days > FOLLOWED_DAYS ? row : { ...row, followedDays: days, failed: true };
  });
}

const coefficient = (model: HazardModel, name: string) => model.columns.find((each) => each.name === name)?.coefficient;
const curve = Float64Array.from(SURVIVAL_DAYS, (days) => Math.exp(-RATE * days));
const caseOf = (known: Partial<HazardCase> = {}): HazardCase => ({
  day: DAY,
  class: 'van',
  ageDays: 1000,
  condition: { 'log_sag_ratio now': 0, 'rest_volts now': 0 },
  troubles: 0,
  ...known,
});
const floor = { aged: curve, suddenShare: 0.25 };
const at = SURVIVAL_DAYS.indexOf(FOLLOWED_DAYS);
const hazardOf = (survival: Float64Array) => -Math.log(survival[at]!);

describe('what the past says of forecasts', () => {
  it('of a fleet in which nothing failed is nothing', () => {
    expect(fitHazard(rowsOf(500, () => 0))).toBeNull();
    expect(fitHazard([])).toBeNull();
  });

  it('is next to nothing with a single failure', () => {
    const rows = rowsOf(60, () => 0).map((row, k) => (k === 7 ? { ...row, followedDays: 40, failed: true } : row));
    const model = fitHazard(rows)!;
    expect(model.columns.every(({ coefficient: each }) => Math.abs(each) < 0.5)).toBe(true);
    expect(model.effective).toBeLessThan(1.5);
  });

  it('finds the indicator that failures hang on, and lets the other be', () => {
    const model = fitHazard(rowsOf(8000, ({ condition }) => Math.exp(0.8 * condition['log_sag_ratio now']!)))!;
    expect(coefficient(model, 'log_sag_ratio now')).toBeGreaterThan(0.55);
    expect(coefficient(model, 'log_sag_ratio now')).toBeLessThan(1);
    expect(Math.abs(coefficient(model, 'rest_volts now')!)).toBeLessThan(0.15);
  });

  it('finds a winter that fails parts nine times as often as summer', () => {
    const model = fitHazard(rowsOf(8000, ({ day }) => Math.exp(1.1 * Math.cos((2 * Math.PI * (day + 45)) / 365.25))))!;
    expect(coefficient(model, 'cosine')).toBeGreaterThan(0.6);
    expect(Math.abs(coefficient(model, 'sine')!)).toBeLessThan(0.35);
  });

  it('decides no more coefficients of the condition than a fifth of the failures, though all of them tell', () => {
    const names = Array.from({ length: 30 }, (_, k) => `crank_volts now${k}`);
    const random = createRandom(3, 'noise');
    const rows = rowsOf(500, () => 1).map((row) => ({
      ...row,
      condition: Object.fromEntries(names.map((name) => [name, random.normal() + Number(row.failed)])),
    }));
    const model = fitHazard(rows)!;
    expect(model.failures).toBeLessThan(20);
    // Level, season and what else stands beside the condition decide less than two here.
    expect(model.effective).toBeLessThan(2 + model.failures / 5);
  });

  it('takes no column that began to be recorded halfway, and reads a missing value as unknown, not as 0', () => {
    const late = rowsOf(3000, () => 1).map((row) => ({
      ...row,
      condition: row.day > DAY - 300 ? { ...row.condition, 'crank_rpm now': 1 } : row.condition,
    }));
    expect(coefficient(fitHazard(late)!, 'crank_rpm now')).toBeUndefined();
    const gaps = rowsOf(6000, ({ condition }) => Math.exp(0.8 * condition['log_sag_ratio now']!)).map((row, k) => ({
      ...row,
      condition: { ...row.condition, 'log_sag_ratio now': k % 4 === 0 ? NaN : row.condition['log_sag_ratio now']! + 5 },
    }));
    const model = fitHazard(gaps)!;
    const [unknown, usual] = [Number.NaN, 5].map((value) =>
      hazardForecast(curve, model, { of: caseOf({ condition: { 'log_sag_ratio now': value } }), floor }),
    );
    expect(hazardOf(unknown!) / hazardOf(usual!)).toBeGreaterThan(0.9);
    expect(hazardOf(unknown!) / hazardOf(usual!)).toBeLessThan(1.1);
  });
});

describe('a forecast under it', () => {
  const model = fitHazard(rowsOf(8000, ({ condition }) => 2 * Math.exp(0.8 * condition['log_sag_ratio now']!)))!;

  it('without a fit is the forecast as it is', () => {
    expect(hazardForecast(curve, null, { of: caseOf(), floor })).toBe(curve);
  });

  it('follows level and condition: twice the hazard for an ordinary part, more for a worn one', () => {
    const ordinary = hazardOf(hazardForecast(curve, model, { of: caseOf(), floor }));
    const worn = hazardOf(
      hazardForecast(curve, model, { of: caseOf({ condition: { 'log_sag_ratio now': 2 } }), floor }),
    );
    expect(ordinary / (RATE * FOLLOWED_DAYS)).toBeGreaterThan(1.5);
    expect(ordinary / (RATE * FOLLOWED_DAYS)).toBeLessThan(2.5);
    expect(worn / ordinary).toBeGreaterThan(2.5);
  });

  it('begins at certainty and never rises, whatever the part', () => {
    for (const value of [-9, 0, 9]) {
      const survival = hazardForecast(curve, model, {
        of: caseOf({ condition: { 'log_sag_ratio now': value } }),
        floor,
      });
      expect(survival[0]).toBeCloseTo(1, 12);
      for (let k = 1; k < survival.length; k++) expect(survival[k]).toBeLessThanOrEqual(survival[k - 1]!);
    }
  });

  it('leaves sudden failures their share of what age expects', () => {
    const best = hazardForecast(curve, model, { of: caseOf({ condition: { 'log_sag_ratio now': -9 } }), floor });
    const level = Math.exp(coefficient(model, 'level')!);
    expect(hazardOf(best)).toBeGreaterThan(0.9 * 0.25 * level * RATE * FOLLOWED_DAYS);
  });

  it('is nearer to one half where fewer failures say so: what the fit leaves uncertain is averaged over', () => {
    const wide = { ...model, covariance: model.covariance.map((value) => 400 * value) };
    const of = caseOf({ condition: { 'log_sag_ratio now': 2.5 } });
    const late = SURVIVAL_DAYS.indexOf(1820);
    const [sure, unsure] = [model, wide].map((each) => hazardForecast(curve, each, { of, floor })[late]!);
    expect(unsure!).toBeGreaterThan(2 * sure!);
  });
});
