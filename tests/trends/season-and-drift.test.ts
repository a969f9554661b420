import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../etl/model/time.ts';
import { alignStrata } from '../../etl/trends/align-strata.ts';
import { correctedSeries, dayTemperatures, fitCorrections, type ClassedDaily } from '../../etl/trends/correction.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { driftOf } from '../../etl/trends/trend-of.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';

const FROM = '2024-03-01';

function fleetOf(engines: Omit<InventedEngine, 'seed' | 'fromOn'>[]): ClassedDaily[] {
  return engines.map((engine, seed) => ({
    class: 'van',
    daily: dailyMedians(inventedCranks({ ...engine, seed: seed + 1, fromOn: FROM }), Infinity),
  }));
}

function sagDrifts(fleet: readonly ClassedDaily[], silent: null = null) {
  const temperatures = dayTemperatures(fleet);
  const corrections = fitCorrections(fleet, temperatures);
  return fleet.map(({ daily }) => {
    const series = correctedSeries(daily, 'log_sag_ratio', { corrections, temperatures, class: 'van' })!;
    return driftOf(alignStrata(series), -Infinity, silent);
  });
}

describe('temperature correction', () => {
  it('finds the slope that was put in: −0.016 per °C', () => {
    const fleet = fleetOf(Array.from({ length: 8 }, () => ({ days: 500 })));
    const { perC } = fitCorrections(fleet, dayTemperatures(fleet))['van']!.log_sag_ratio!;
    expect(perC).toBeCloseTo(-0.016, 3);
  });

  it('leaves no trend in a fleet that has seasons and does not age: 95 % intervals that hold 0', () => {
    // Half a season is the hardest: autumn to winter looks like decline.
    const drifts = sagDrifts(fleetOf(Array.from({ length: 30 }, () => ({ days: 640, noise: 0.03 }))));
    const holding = drifts.filter(({ slopeLow, slopeHigh }) => slopeLow! <= 0 && slopeHigh! >= 0).length;
    expect(holding).toBeGreaterThanOrEqual(26);
    for (const { slopePerYear } of drifts) expect(Math.abs(slopePerYear!)).toBeLessThan(0.03);
  });

  it('lets the fleet of the day stand in where a logger has no temperature', () => {
    const fleet = fleetOf([...Array.from({ length: 6 }, () => ({ days: 500 })), { days: 500, withTemperature: false }]);
    expect(Math.abs(sagDrifts(fleet).at(-1)!.slopePerYear!)).toBeLessThan(0.03);
  });

  it('recovers a decline of 0.3 a year under the season', () => {
    const fleet = fleetOf([
      ...Array.from({ length: 8 }, () => ({ days: 640 })),
      { days: 640, logSag: (day: number) => -0.4 + (0.3 * day) / 365.25 },
    ]);
    const drift = sagDrifts(fleet).at(-1)!;
    expect(drift.slopePerYear).toBeCloseTo(0.3, 1);
    expect(drift.senSlopePerYear).toBeCloseTo(0.3, 1);
    expect(drift.level).toBeCloseTo(-0.4 + (0.3 * 626) / 365.25, 1);
    expect(drift.pValue).toBeLessThan(0.01);
  });
});

describe('a change of logger', () => {
  it('is no decline: a slower logger that reads 0.25 less sag gives no slope', () => {
    const swapped = {
      days: 640,
      rateHz: (day: number) => (day < 320 ? 100 : 20),
      sagOffset: (day: number) => (day < 320 ? 0 : -0.25),
    };
    const drift = sagDrifts(fleetOf([...Array.from({ length: 8 }, () => ({ days: 640 })), swapped])).at(-1)!;
    expect(Math.abs(drift.slopePerYear!)).toBeLessThan(0.06);
  });
});

describe('a trend is refused', () => {
  it('with too few points, and says how many there were', () => {
    const fleet = fleetOf([{ days: 500 }, { days: 500 }, { days: 12 }]);
    expect(sagDrifts(fleet)[2]).toMatchObject({ standing: 'too_few_points', n: 12, slopePerYear: null, level: null });
  });

  it('where the indicator was never recorded', () => {
    expect(driftOf(null, 0, null)).toMatchObject({ standing: 'not_recorded', n: 0 });
  });

  it('where the logger has fallen silent', () => {
    const [fleet] = [fleetOf([{ days: 500 }, { days: 500 }])];
    const temperatures = dayTemperatures(fleet);
    const context = { corrections: fitCorrections(fleet, temperatures), temperatures, class: 'van' };
    const series = correctedSeries(fleet[0]!.daily, 'log_sag_ratio', context)!;
    expect(driftOf(series, dayNumber(FROM), 'logger_silent')).toMatchObject({ standing: 'logger_silent', level: null });
  });
});
