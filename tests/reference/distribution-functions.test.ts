import { describe, it } from 'vitest';
import { logGamma } from '../../etl/stats/log-gamma.ts';
import { logNormalCdf, normalCdf, normalQuantile } from '../../etl/stats/normal.ts';
import { NORMAL_SD_PER_MAD } from '../../etl/stats/quantile.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceSet } from '../support/reference-data.ts';

describe('standard normal distribution against R pnorm and qnorm', () => {
  const { computedList, tolerance } = referenceSet('normal');

  it('distribution function from −30 to 6', () => {
    expectAllClose([-30, -8, -3, -1, -0.3, 0.5, 2, 6].map(normalCdf), computedList('cdf'), tolerance);
  });

  it('its logarithm from −1000 to 9, where the plain one is 0', () => {
    expectAllClose([-1000, -40, -10, -5.5, -0.6, 0.4, 3, 9].map(logNormalCdf), computedList('logCdf'), tolerance);
    expectClose(logNormalCdf(-40), -804.6084420137538, 1e-15);
  });

  it('quantiles from 1e-300 to 0.999', () => {
    expectAllClose(
      [1e-300, 1e-10, 0.025, 0.3, 0.5, 0.9, 0.999].map(normalQuantile),
      computedList('quantile'),
      tolerance,
    );
    expectClose(NORMAL_SD_PER_MAD, 1.482602218505602, 1e-14);
  });
});

it('log gamma agrees with R lgamma', () => {
  const { computedList, tolerance } = referenceSet('logGamma');
  expectAllClose([0.01, 0.3, 1.5, 2, 7.25, 171.5].map(logGamma), computedList('value'), tolerance);
});
