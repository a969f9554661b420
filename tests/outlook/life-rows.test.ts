import { describe, expect, it } from 'vitest';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { likelihoodRows, watchOf, type ClassedLife } from '../../etl/outlook/life-rows.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { fitWeibull } from '../../etl/stats/weibull-fit.ts';
import { weibullQuantile } from '../../etl/stats/weibull.ts';
import { batteryLife } from '../support/service-lives.ts';

const believed = { shape: 2.5, scale: 1600 };
const failed = {
  end: 'failure',
  watchedFromOn: '2024-01-01',
  watchedToOn: '2024-12-31',
  removedOn: '2024-12-31',
} as const;
const rowsOf = (...lives: ClassedLife[]) => likelihoodRows(lives.map(watchOf), believed);
const meanAge = ({ entry, weight }: ReturnType<typeof rowsOf>) =>
  entry.reduce((sum, age, k) => sum + age * weight![k]!, 0);

describe('a life as rows of the likelihood', () => {
  it('of known age: from its age when watching began to its end', () => {
    const rows = rowsOf(batteryLife({ ...failed, fittedOn: '2023-01-01' }));
    expect([...rows.entry, ...rows.exit, ...rows.failedAfter!, ...rows.event]).toEqual([365, 730, 730, 1]);
    expect([...rows.weight!]).toEqual([1]);
  });

  it('failed after the last good crank, not on the day of its repair', () => {
    const rows = rowsOf(batteryLife({ ...failed, fittedOn: '2023-01-01', failedAfterOn: '2024-10-31' }));
    expect([...rows.failedAfter!]).toEqual([730 - 61]);
  });

  it('that failed on the day watching began lived for some hours; one that left that day is no row', () => {
    const same = { watchedFromOn: '2024-01-01', watchedToOn: '2024-01-01', fittedOn: '2023-01-01' };
    expect([...rowsOf(batteryLife({ ...same, end: 'failure' })).exit]).toEqual([365.5]);
    expect(rowsOf(batteryLife({ ...same, end: 'planned' })).exit).toHaveLength(0);
  });

  it('of unknown age counts once, as what it may have been; one that failed was more likely an old one', () => {
    const unknown = { fittedOn: null };
    const [stayed, gone] = [
      rowsOf(batteryLife({ ...failed, ...unknown, end: 'in_service', removedOn: null })),
      rowsOf(batteryLife({ ...failed, ...unknown })),
    ];
    for (const rows of [stayed, gone]) expect(rows.weight!.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12);
    expect(stayed.weight!.length).toBeGreaterThan(3);
    expect(meanAge(gone)).toBeGreaterThan(1.3 * meanAge(stayed));
    const between = rowsOf(batteryLife({ ...failed, ...unknown, failedAfterOn: '2024-12-30' }));
    expect(meanAge(between) / meanAge(gone)).toBeCloseTo(1, 2);
  });
});

describe('ages and fit taken in turn', () => {
  const truth = { shape: 2.2, scale: 1000 };

  /** Parts of units put in service up to `span` days before, renewed as they fail, none of their fittings recorded. */
  function ofUnknownAge(span: number): ClassedLife[] {
    const random = createRandom(4);
    const from = dayNumber('2024-01-01');
    return Array.from({ length: 3000 }, () => {
      const unitAge = span * random.uniform();
      let [fitted, life] = [-unitAge, weibullQuantile(random.uniform(), truth)];
      while (fitted + life <= 0) {
        fitted += life;
        life = weibullQuantile(random.uniform(), truth);
      }
      const to = Math.min(fitted + life, 730);
      const unitInServiceOn = dateOf(from - Math.floor(unitAge));
      const end = to < 730 ? 'failure' : 'in_service';
      return batteryLife({ unitInServiceOn, fittedOn: null, end, watchedToOn: dateOf(from + Math.ceil(to)) });
    });
  }

  it.each([
    ['old', 9000],
    ['young, many with their first parts', 2500],
  ])('come to the truth, whatever was believed beforehand: units that are %s', (_, span) => {
    const lives = ofUnknownAge(span).map(watchOf);
    const first = fitWeibull(likelihoodRows(lives, believed));
    let fit = first;
    for (let turn = 0; turn < 7; turn++) fit = fitWeibull(likelihoodRows(lives, fit), { start: fit });
    expect(Math.abs(fit.scale / truth.scale - 1)).toBeLessThan(0.05);
    expect(Math.abs(fit.shape / truth.shape - 1)).toBeLessThan(0.15);
    // Ages only believed draw the fit to the belief.
    expect(first.scale).toBeGreaterThan(1.1 * truth.scale);
  });
});
