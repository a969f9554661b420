import { describe, expect, it } from 'vitest';
import type { BacktestForecast, ComponentScores, Estimate, Forecaster } from '../../etl/model/backtest.ts';
import { withWrongLabels } from '../../etl/outlook/backtest-labels.ts';
import { pullMonths, pullScores } from '../../etl/outlook/backtest-pulls.ts';
import { scoresOf } from '../../etl/outlook/backtest-scores.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { backtestForecast, inventedForecasts } from '../support/backtest-forecasts.ts';

const scored = (forecasts: readonly BacktestForecast[], seed = 1) =>
  scoresOf('battery', forecasts, { horizonDays: 90, seed, draws: 60 });
const of = (scores: ComponentScores, forecaster: Forecaster) =>
  scores.forecasters.find((each) => each.forecaster === forecaster)!;

describe('forecasts that tell the truth', () => {
  const fleets = [1, 2, 3, 4, 5, 6, 7, 8].map((seed) =>
    scoresOf('battery', inventedForecasts({ units: 250, seed }), { horizonDays: 90, seed: 1, draws: 40 }),
  );
  const scores = scored(inventedForecasts({ units: 400 }));

  /** On how many of the fleets the interval holds the truth, and the mean over all. */
  const against = (truth: number, figure: (of: ComponentScores) => Estimate | null) => {
    const known = fleets.map(figure).filter((each) => each !== null);
    const held = known.filter(({ low, high }) => low! <= truth && high! >= truth).length;
    return { held, mean: known.reduce((sum, { value }) => sum + value, 0) / known.length };
  };

  it.each<[string, number, number, (of: ComponentScores) => Estimate | null]>([
    ['failures over those expected', 1, 0.1, ({ calibration }) => calibration.ratio],
    ['slope', 1, 0.1, ({ calibration }) => calibration.slope],
    ['intercept', 0, 0.1, ({ calibration }) => calibration.intercept],
    ['share before the window', 0.1, 0.015, ({ window }) => window.before],
  ])('%s: the mean over eight fleets is near it, and the interval holds it on most', (_, truth, near, figure) => {
    const { held, mean } = against(truth, figure);
    // On forty such fleets it held it on 36: a percentile interval over a few hundred units is a little too narrow.
    expect(held).toBeGreaterThanOrEqual(5);
    expect(Math.abs(mean - truth)).toBeLessThan(near);
  });

  it('hold four fifths of the failures in the window, where parts were followed so far', () => {
    const followed = [1, 2, 3, 4].map((seed) =>
      scored(inventedForecasts({ units: 250, seed, followedToOn: '2034-01-01' })),
    );
    const known = followed.map(({ window }) => window.inside).filter((inside) => inside !== null);
    expect(known).toHaveLength(4);
    expect(known.filter(({ low, high }) => low! <= 0.8 && high! >= 0.8).length).toBeGreaterThanOrEqual(3);
    expect(Math.abs(known.reduce((sum, { value }) => sum + value / 4, 0) - 0.8)).toBeLessThan(0.03);
  });

  it('say nothing of the window where hardly a unit was followed to its end', () => {
    const { window, verdict } = scored(inventedForecasts({ units: 100, followedToOn: '2025-12-15' }));
    expect([window.inside, window.after]).toEqual([null, null]);
    expect(window.before).not.toBeNull();
    expect(verdict.at(-1)).toMatch(/^Too few parts were followed to the end of their window to say how much it held\./);
  });

  it('beat every baseline', () => {
    for (const { unoC } of scores.margins) expect(unoC!.low).toBeGreaterThan(0);
    expect(of(scores, 'outlook').skill!.low).toBeGreaterThan(0);
    expect(scores.calibration.judgeable).toBe(true);
    expect(scores.calibration.dCalibration!.pValue).toBeGreaterThan(0.01);
    expect(scores.verdict[0]).toMatch(
      /^Which fails first: the forecast does better than the base rate, age alone, a fixed voltage threshold and the last value \(C 0\.\d\d/,
    );
  });

  it('find more in the top twentieth than chance does; what gives no order finds its share', () => {
    expect(of(scores, 'outlook').recallTop5!.value).toBeGreaterThan(0.08);
    expect(of(scores, 'base_rate').recallTop5!.value).toBeCloseTo(0.05, 12);
    expect(of(scores, 'base_rate').skill!.value).toBe(0);
    expect([of(scores, 'last_value').brier, of(scores, 'voltage_threshold').skill]).toEqual([null, null]);
  });

  it('look worse where records name the wrong part, the more of them the worse', () => {
    const [tenth, fifth] = scores.wrongLabels;
    expect([tenth!.share, fifth!.share]).toEqual([0.1, 0.2]);
    expect(tenth!.auc!).toBeLessThan(of(scores, 'outlook').auc!.value);
    expect(fifth!.auc!).toBeLessThan(tenth!.auc!);
  });

  it('are scored the same again, and other draws give another interval', () => {
    const forecasts = inventedForecasts({ units: 60 });
    expect(scored(forecasts)).toEqual(scored(forecasts));
    expect(scored(forecasts, 2).calibration.ratio).not.toEqual(scored(forecasts).calibration.ratio);
  });
});

describe('forecasts that say the wrong thing', () => {
  it('lose to a baseline, and the verdict says so', () => {
    const turned = inventedForecasts({ units: 300 }).map((each) => ({
      ...each,
      pFail: 1 - each.pFail,
      ageOnly: each.pFail,
    }));
    const { verdict, margins } = scored(turned);
    expect(margins.find(({ against }) => against === 'age_only')!.unoC!.high).toBeLessThan(0);
    expect(verdict[0]).toContain('age alone');
    expect(verdict[0]).toContain('do better than the forecast');
    expect(verdict[1]).toContain('the base rate and age alone do better than the forecast');
  });

  it('twice too dark are told so by the ratio', () => {
    const dark = inventedForecasts({ units: 400 }).map((each) => ({ ...each, pFail: Math.min(1, 2 * each.pFail) }));
    const { calibration, verdict } = scored(dark);
    expect(calibration.ratio!.high).toBeLessThan(0.8);
    expect(verdict.some((words) => words.startsWith('On the whole fewer than forecast failed: 0.'))).toBe(true);
  });
});

describe('few failures', () => {
  it('under a hundred: calibration cannot be judged', () => {
    const scores = scored(inventedForecasts({ units: 40 }));
    expect(scores.failures).toBeLessThan(100);
    expect(scores.calibration.judgeable).toBe(false);
    expect(scores.verdict).toContain(
      `Calibration cannot be judged: ${scores.failures} failures, and about 100 are needed.`,
    );
  });

  it('none, or no forecasts at all: nothing to judge, and no figure is made up', () => {
    const lived = scored([backtestForecast(), backtestForecast({ unit: 'U2', pFail: 0.2 })]);
    expect(lived.verdict).toEqual(['No battery failed within a horizon: there is nothing to judge.']);
    expect([of(lived, 'outlook').unoC, lived.calibration.slope]).toEqual([null, null]);
    const none = scored([]);
    expect([none.forecasts, none.failures, none.failedShare]).toEqual([0, 0, null]);
    expect(none.forecasters.every(({ harrellC, brier }) => harrellC === null && brier === null)).toBe(true);
  });
});

describe('wrong labels', () => {
  it('keep the number of failures, and no forecast stands on or after its part’s end', () => {
    const forecasts = inventedForecasts({ units: 100 });
    const wrong = withWrongLabels(forecasts, 0.2, { random: createRandom(3), horizonDays: 90 });
    const failed = (rows: readonly BacktestForecast[]) =>
      new Set(rows.filter(({ failedOn }) => failedOn !== null).map(({ unit }) => unit));
    const [before, after] = [failed(forecasts), failed(wrong)];
    const kept = [...after].filter((unit) => before.has(unit));
    expect(before.size - kept.length).toBe(Math.round(0.2 * before.size));
    expect(after.size - kept.length).toBeGreaterThan(0);
    expect(wrong.every(({ asOfOn, followedToOn }) => followedToOn > asOfOn)).toBe(true);
  });
});

describe('pulls', () => {
  const hit = [
    backtestForecast({ unit: 'A', pFail: 0.05, failedOn: '2026-04-01' }),
    backtestForecast({ unit: 'A', asOfOn: '2026-02-01', pFail: 0.1, failedOn: '2026-04-01' }),
  ];
  const needless = backtestForecast({ unit: 'B', pFail: 0.3 });
  const miss = backtestForecast({ unit: 'C', pFail: 0.01, failedOn: '2026-03-01' });
  const open = backtestForecast({ unit: 'D', pFail: 0.5, followedToOn: '2026-02-01' });
  const gone = backtestForecast({ unit: 'E', pFail: 0.9, end: 'gone', followedToOn: '2026-01-01' });
  const all = [...hit, needless, miss, open, gone];

  it('are counted once a part, at its first call', () => {
    expect(pullScores(all, 90)).toMatchObject({ hits: 1, misses: 1, needless: 1, open: 1, leadDaysMedian: 59 });
    expect(pullScores([needless], 90).needlessPer100UnitMonths).toBeCloseTo(100 / (365 / (365.25 / 12)), 10);
    expect(pullScores([gone], 90)).toMatchObject({ hits: 0, leadDaysMedian: null, needlessPer100UnitMonths: null });
  });

  it('by month: of the pull, or of the failure that was missed', () => {
    const row = { component: 'battery', hits: 0, misses: 0, needless: 0, open: 0 };
    expect(pullMonths(all, 90)).toEqual([
      { ...row, month: '2026-01', needless: 1, open: 1 },
      { ...row, month: '2026-02', hits: 1 },
      { ...row, month: '2026-03', misses: 1 },
    ]);
  });
});
