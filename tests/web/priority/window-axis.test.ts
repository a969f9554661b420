import { describe, expect, it } from 'vitest';
import { AXIS_MONTHS } from '../../../web/priority/ranking-query.ts';
import { addMonths, windowAxis } from '../../../web/priority/window-axis.ts';

describe('window axis', () => {
  it.each(AXIS_MONTHS)('of %i months runs from shortly before the as-of day to so many months later', (months) => {
    const axis = windowAxis('2026-03-01', months);
    expect(axis.percent(axis.fromOn)).toBe(0);
    expect(axis.percent(axis.toOn)).toBe(100);
    expect(axis.toOn).toBe(addMonths('2026-03-01', months));
    const asOf = axis.percent('2026-03-01');
    expect(asOf).toBeGreaterThan(1);
    expect(asOf).toBeLessThan(3);
  });

  it('is linear in days', () => {
    const axis = windowAxis('2026-03-01', 12);
    const [a, b, c] = ['2026-04-01', '2026-04-11', '2026-04-21'].map(axis.percent) as [number, number, number];
    expect(b - a).toBeCloseTo(c - b, 10);
  });

  it('ticks on first days of months and says the year where it begins', () => {
    const { ticks, percent } = windowAxis('2026-10-31', 12);
    expect(ticks.map((tick) => tick.label)).toEqual(['Nov', '2027', 'Mar', 'May', 'Jul', 'Sept']);
    expect(ticks[1]!.percent).toBe(percent('2027-01-01'));
  });

  it('adds months on the calendar: a day that the month lacks becomes its last', () => {
    expect(addMonths('2026-01-31', 1)).toBe('2026-02-28');
    expect(addMonths('2024-01-31', 1)).toBe('2024-02-29');
    expect(addMonths('2026-11-30', 3)).toBe('2027-02-28');
    expect(addMonths('2026-03-15', -3)).toBe('2025-12-15');
  });
});
