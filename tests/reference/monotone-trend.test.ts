import { describe, expect, it } from 'vitest';
import { mannKendall } from '../../etl/stats/mann-kendall.ts';
import { median, medianAbsoluteDeviation, quantile } from '../../etl/stats/quantile.ts';
import { theilSen, theilSenSlope } from '../../etl/stats/theil-sen.ts';
import { expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

const { t, y } = referenceColumns('sulfate.csv', ['t', 'y']);
const nile = referenceColumns('nile.csv', ['y']).y;
const years = nile.map((_, i) => i + 1);

describe('USEPA 2009 Unified Guidance, Example 17-6: sulfate in ground water', () => {
  const { published, computed, tolerance } = referenceSet('sulfate');

  it('Theil–Sen slope, Conover intercept and interval by interpolated ranks are as published', () => {
    const { slope, intercept, low, high } = theilSen(t, y);
    expectClose(slope, published('slope'), 1e-8);
    expect(theilSenSlope(t, y)).toBe(slope);
    expectClose(intercept, published('intercept'), 1e-8);
    expect(low).toBe(published('low'));
    expect(high).toBeCloseTo(published('high'), 5);
    expectClose(high, computed('high'), tolerance);
  });

  it('Mann–Kendall z and p are as published, ties counted', () => {
    const test = mannKendall(y, { times: t });
    expect(test.score).toBe(computed('score'));
    expectClose(test.variance, computed('variance'), tolerance);
    expectClose(test.z, published('z'), 1e-6);
    expectClose(test.pValue, published('pValue'), 1e-6);
    expectClose(test.correctedVariance, computed('varianceFewLags'), tolerance);
  });
});

describe('seven points on a line, one of them far off (Helsel & Hirsch 2002)', () => {
  it('keep slope 1 and intercept 0, where least squares would give −1.43 and 1.71', () => {
    const { published, computed, tolerance } = referenceSet('oneOutlier');
    const columns = referenceColumns('one-outlier.csv', ['t', 'y']);
    const fit = theilSen(columns.t, columns.y);
    expect(fit.slope).toBe(published('slope'));
    expect(fit.intercept).toBe(published('intercept'));
    for (const name of ['low', 'high'] as const) expectClose(fit[name], computed(name), tolerance);
    const test = mannKendall(columns.y, { times: columns.t });
    for (const name of ['score', 'variance', 'z', 'pValue'] as const)
      expectClose(test[name], computed(name), tolerance);
  });
});

describe('Nile at Aswan 1871–1970, a series whose years resemble each other', () => {
  const { computed, computedList, tolerance } = referenceSet('nile');

  it('slope and interval agree with R', () => {
    const fit = theilSen(years, nile);
    for (const name of ['slope', 'intercept', 'low', 'high'] as const)
      expectClose(fit[name], computed(name), tolerance);
    expect(theilSenSlope(years, nile)).toBe(fit.slope);
  });

  it('the plain test agrees with R', () => {
    const test = mannKendall(nile);
    for (const name of ['score', 'variance', 'z', 'pValue'] as const)
      expectClose(test[name], computed(name), tolerance);
  });

  it('the correction of Hamed & Rao 1998 with all lags gives variance 241565.357 and z −2.819979', () => {
    const test = mannKendall(nile, { maxLag: nile.length - 1 });
    expect(test.correctedVariance).toBeCloseTo(241565.357, 3);
    expect(test.correctedZ).toBeCloseTo(-2.819979, 6);
    expectClose(test.correctedVariance, computed('varianceAllLags'), tolerance);
  });

  it('with lags up to the cube root of n, the rule here, it agrees with R', () => {
    const test = mannKendall(nile);
    expectClose(test.correctedVariance, computed('varianceFewLags'), tolerance);
    expectClose(test.correctedZ, computed('zFewLags'), tolerance);
  });

  it('quantiles of type 7 and the median absolute deviation agree with R', () => {
    expect([0.1, 0.5, 0.9].map((p) => quantile(nile, p))).toEqual(computedList('quantile'));
    expect(median(nile)).toBe(computedList('quantile')[1]);
    expect(medianAbsoluteDeviation(nile)).toBe(computed('mad'));
  });
});
