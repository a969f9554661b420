import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_POINTS, thinEvenly, thinKeepingExtremes } from '../../../web/charts/thin.ts';

const curve = fc.array(fc.double({ noNaN: true, min: -30, max: 30 }), { minLength: 1, maxLength: 400 });
const most = fc.integer({ min: 4, max: 60 });

describe('thinning a curve', () => {
  it('keeps lowest, highest, first and last, in order, and never more than asked for', () => {
    fc.assert(
      fc.property(curve, most, (values, limit) => {
        const kept = thinKeepingExtremes(values, limit);
        expect(kept.length).toBeLessThanOrEqual(limit);
        expect(kept).toEqual([...new Set(kept)].toSorted((a, b) => a - b));
        const shown = kept.map((index) => values[index]!);
        expect(Math.min(...shown)).toBe(Math.min(...values));
        expect(Math.max(...shown)).toBe(Math.max(...values));
        expect([shown[0], shown.at(-1)]).toEqual([values[0], values.at(-1)]);
      }),
    );
  });

  it('keeps a dip of one sample among 100,000', () => {
    const values = Array.from({ length: 100_000 }, () => 12.6);
    values[61_803] = 6.2;
    const kept = thinKeepingExtremes(values);
    expect(kept).toContain(61_803);
    expect(kept.length).toBeLessThanOrEqual(MOST_POINTS);
  });
});

describe('thinning evenly', () => {
  it('keeps both ends and the asked number', () => {
    const rows = Array.from({ length: 4999 }, (_, index) => index);
    const kept = thinEvenly(rows);
    expect(kept.length).toBe(MOST_POINTS);
    expect([kept[0], kept.at(-1)]).toEqual([0, 4998]);
    expect(thinEvenly(rows, 5000)).toEqual(rows);
  });
});
