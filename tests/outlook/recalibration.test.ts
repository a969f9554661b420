import { describe, expect, it } from 'vitest';
import { SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { fitLifeModels, type ClassedLife } from '../../etl/outlook/life-model.ts';
import { AS_IT_IS, fitRecalibration, recalibrated } from '../../etl/outlook/recalibration.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { batteryLife } from '../support/service-lives.ts';

const curve = Float64Array.from(SURVIVAL_DAYS, (t) => Math.exp(-t / 1000));
const DAY = dayNumber('2026-01-01');

describe('a recalibrated curve', () => {
  it('is the curve itself where the past has nothing to say', () => {
    recalibrated(curve, AS_IT_IS, DAY).forEach((value, k) => expect(value).toBeCloseTo(curve[k]!, 12));
  });

  it('with a level of log 2 has twice the hazard: the square', () => {
    const twice = recalibrated(curve, { ...AS_IT_IS, level: Math.LN2 }, DAY);
    twice.forEach((value, k) => expect(value).toBeCloseTo(curve[k]! ** 2, 12));
  });

  it('with a steepness raises the hazard of nine weeks to a power about e^−4', () => {
    const steep = recalibrated(curve, { ...AS_IT_IS, steepness: 0.5 }, DAY);
    const at = SURVIVAL_DAYS.indexOf(63);
    expect(Math.log(-Math.log(steep[at]!))).toBeCloseTo(-4 + 1.5 * (Math.log(0.063) + 4), 12);
  });

  it('never rises, whatever the season does, and comes back to the same after a year', () => {
    const seasonal = recalibrated(curve, { level: 0, steepness: 0, sine: 1.2, cosine: -0.8 }, DAY);
    for (let k = 1; k < seasonal.length; k++) expect(seasonal[k]).toBeLessThanOrEqual(seasonal[k - 1]!);
    // The mean of e^(a·sin + c·cos) over a year is the Bessel function I0(√(a² + c²)), here by its series.
    const factor = -Math.log(seasonal[SURVIVAL_DAYS.indexOf(364)]!) / 0.364;
    let bessel = 0;
    for (let k = 0, term = 1; k < 30; k++, term *= (1.2 ** 2 + 0.8 ** 2) / 4 / k ** 2) bessel += term;
    expect(factor).toBeCloseTo(bessel, 1);
  });
});

/** A fleet whose parts fail by chance only, at a rate of its own: by the season where told. */
function fleet(rate: (day: number) => number): ClassedLife[] {
  const random = createRandom(5, 'recalibration');
  const [from, to] = [dayNumber('2024-01-01'), dayNumber('2025-12-31')];
  return Array.from({ length: 400 }, (_, index) => {
    let day = from;
    while (day < to && random.uniform() > rate(day)) day++;
    const failed = day < to;
    return batteryLife({
      unit: `U${index}`,
      end: failed ? 'failure' : 'in_service',
      fittedOn: dateOf(from - 200 - Math.floor(1000 * random.uniform())),
      watchedFromOn: dateOf(from),
      watchedToOn: dateOf(day),
    });
  });
}

describe('what the past says', () => {
  const fitted = (lives: ClassedLife[]) =>
    fitRecalibration(
      lives.map((life) => ({ life, path: null })),
      { lives: fitLifeModels(lives).battery, wear: null },
    );

  it('of a fleet without lives is nothing', () => {
    expect(fitRecalibration([], { lives: fitLifeModels([]).battery, wear: null })).toEqual(AS_IT_IS);
  });

  it('finds a winter that fails parts nine times as often as summer', () => {
    // e^(1.1·cos) with the year's turn at 1970-01-01: the highest hazard is about the first of January.
    const found = fitted(fleet((day) => 0.0006 * Math.exp(1.1 * Math.cos((2 * Math.PI * day) / 365.25))));
    expect(found.cosine).toBeGreaterThan(0.7);
    expect(found.cosine).toBeLessThan(1.4);
    expect(Math.abs(found.sine)).toBeLessThan(0.3);
  });

  it('finds no season where there is none', () => {
    const found = fitted(fleet(() => 0.0008));
    expect(Math.hypot(found.sine, found.cosine)).toBeLessThan(0.3);
  });

  it('of a fleet in which nothing failed is nothing: the life model has said it', () => {
    expect(fitted(fleet(() => 0))).toEqual(AS_IT_IS);
  });

  it('moves little with one failure', () => {
    const few = fleet(() => 0).map((life, index) =>
      index === 0 ? { ...life, end: 'failure' as const, watchedToOn: '2025-06-01' } : life,
    );
    const found = fitted(few.slice(0, 40));
    for (const value of Object.values(found)) expect(Math.abs(value)).toBeLessThan(0.5);
  });
});
