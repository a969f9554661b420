import { describe, expect, it } from 'vitest';
import { sinceDay } from '../../etl/assess-fleet.ts';
import { dayNumber } from '../../etl/model/time.ts';
import { correctedSeries, dayTemperatures, fitCorrections, type ClassedDaily } from '../../etl/trends/correction.ts';
import { dailyMedians } from '../../etl/trends/daily-medians.ts';
import { driftOf } from '../../etl/trends/trend-of.ts';
import { withoutLine } from '../../etl/trends/without-line.ts';
import { inventedCranks, type InventedEngine } from '../support/invented-cranks.ts';
import { batteryLife } from '../support/service-lives.ts';

const FROM = '2024-03-01';

function fleet(engine: Omit<InventedEngine, 'seed' | 'fromOn'>, breaks: readonly number[] = []): ClassedDaily[] {
  return Array.from({ length: 8 }, (_, seed) => ({
    class: 'van',
    daily: dailyMedians(inventedCranks({ ...engine, seed: seed + 1, fromOn: FROM }), Infinity),
    breaks,
  }));
}

function slopesOf(engines: readonly ClassedDaily[]) {
  const temperatures = dayTemperatures(engines);
  const corrections = fitCorrections(engines, temperatures);
  const context = { corrections, temperatures, class: 'van' };
  const perYear = engines.map(({ daily }) => {
    const series = correctedSeries(daily, 'log_sag_ratio', context)!;
    return driftOf(series, -Infinity, null).slopePerYear!;
  });
  return { perC: corrections['van']?.log_sag_ratio?.perC ?? null, perYear };
}

describe('wear does not pass for the cold', () => {
  it('in a fleet that all ages, over less than a year: both slopes as they were put in', () => {
    const { perC, perYear } = slopesOf(fleet({ days: 300, logSag: (day) => -0.4 + (0.3 * day) / 365.25 }));
    expect(perC).toBeCloseTo(-0.016, 3);
    for (const slope of perYear) expect(Math.abs(slope - 0.3)).toBeLessThan(0.04);
  });

  it('nor does a replacement: the line of one life is not drawn across it', () => {
    const saw = (day: number) => -0.4 + (0.6 * (day % 300)) / 365.25;
    const { perC } = slopesOf(fleet({ days: 600, logSag: saw }, [dayNumber(FROM), dayNumber(FROM) + 300]));
    expect(perC).toBeCloseTo(-0.016, 3);
  });
});

it.each([15, 25, 20])('a logger that writes %i °C for ever takes nothing out, and stops nothing', (stuckC) => {
  const engines = fleet({ days: 500 });
  for (const { daily } of engines) daily.tempC.fill(stuckC);
  expect(slopesOf(engines).perC ?? 0).toBe(0);
});

it('an indicator speaks from the newest of the parts that it speaks of', () => {
  const battery = { ...batteryLife(), watchedFromOn: '2025-05-01' };
  const starter = { ...battery, component: 'starter' as const, watchedFromOn: '2024-03-01' };
  expect(sinceDay([battery, starter], 'log_sag_ratio')).toBe(dayNumber('2025-05-01'));
  expect(sinceDay([battery, starter], 'crank_rpm')).toBe(dayNumber('2024-03-01'));
});

it('a straight line leaves nothing of itself, and of points on one day only their distance from the mean', () => {
  expect(withoutLine([0, 1, 2], [5, 7, 9])).toEqual([0, 0, 0]);
  expect(withoutLine([4, 4], [1, 3])).toEqual([-1, 1]);
});
