import { describe, expect, it } from 'vitest';
import { changePoints } from '../../etl/stats/change-point.ts';
import { referenceColumns } from '../support/reference-data.ts';

/**
 * Annual flow of the Nile at Aswan 1871–1970: it fell after 1898, the 28th year, when the dam was begun (Cobb 1978,
 * Biometrika 65:243; R's strucchange gives 28 with a 95 % interval of 25 to 32). Sums of squares and means: R.
 */
const nile = referenceColumns('nile.csv', ['y']).y;
const years = Float64Array.from(nile, (_, index) => 1871 + index);

describe('change point of the Nile', () => {
  const found = changePoints(years, nile, { varianceFloor: 1 });

  it('lies after the 28th year, and there is no other', () => expect(found.map(({ to }) => to)).toEqual([28, 100]));

  it('has the means and the residual sum of squares of the split', () => {
    expect(found[0]!.first).toBeCloseTo(1097.75, 9);
    expect(found[1]!.first).toBeCloseTo(849.972222, 6);
    expect(found[0]!.rss + found[1]!.rss).toBeCloseTo(1597457.19, 2);
    const [whole] = changePoints(years, nile, { varianceFloor: 1, penalty: 1e9 });
    expect(whole!.rss).toBeCloseTo(2835156.75, 2);
  });

  it('is joined by chance repetitions where segments may be short: two equal years have no variance', () => {
    const short = changePoints(years, nile, { varianceFloor: 1e-9, minSegment: 2 });
    expect(short.map(({ from }) => from)).toEqual(expect.arrayContaining([4, 6]));
  });
});
