import { describe, expect, it } from 'vitest';
import { huberRegression } from '../../etl/stats/robust-regression.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

describe('stack loss (Brownlee 1965), 21 days of which four are odd', () => {
  const { air, water, acid, loss } = referenceColumns('stack-loss.csv', ['air', 'water', 'acid', 'loss']);
  const fit = huberRegression([new Float64Array(loss.length).fill(1), air, water, acid], loss);
  const { published, publishedList, computed, computedList, tolerance } = referenceSet('stackLoss');

  it('Huber coefficients are those of rlm in the R package MASS, which stops at a change of 1e-4', () => {
    expectAllClose(fit.coefficients, publishedList('coefficient'), 1e-4);
    expectClose(fit.scale, published('scale'), 1e-4);
  });

  it('and agree with R lm.wfit reweighted to convergence', () => {
    expectAllClose(fit.coefficients, computedList('coefficient'), tolerance);
    expectClose(fit.scale, computed('scale'), tolerance);
    expect(fit.converged).toBe(true);
  });
});
