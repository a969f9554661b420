import { expect, it } from 'vitest';
import type { EngineSeries } from '../../etl/outlook/condition-index.ts';
import { packedSummaries } from '../../etl/packed-summaries.ts';
import { NOT_RECORDED } from '../../etl/trends/trend-of.ts';

const weekly = (...day: number[]) => ({ day: Float64Array.from(day), value: Float64Array.from(day, Math.sqrt) });
const summary = (...day: number[]) => ({
  threeWeekly: weekly(...day),
  recent: weekly(...day.slice(-2)),
  readings: [null, { fortnight: 1, month: 2, before: Number.NaN }],
  newestOn: [null, { value: 1, day: 2, lastDay: 3 }],
  newest: null,
  usual: { level: 1, noise: 0.5 },
  drift: NOT_RECORDED,
  hasTemperature: true,
});

it('an engine of some indicators lies in one piece of memory, and says the same', () => {
  const series: EngineSeries['series'] = {
    rest_volts: summary(1, 4, 9),
    crank_rpm: summary(),
    crank_volts: summary(16),
  };
  const packed = packedSummaries(series);
  expect(packed).toEqual(series);
  const pieces = Object.values(packed).flatMap(({ threeWeekly, recent }) =>
    [threeWeekly, recent].flatMap(({ day, value }) => [day.buffer, value.buffer]),
  );
  expect(new Set(pieces).size).toBe(1);
  // 3 + 2 and 1 + 1 points, each a day and a value.
  expect(pieces[0]!.byteLength).toBe(7 * 2 * Float64Array.BYTES_PER_ELEMENT);
});

it('an engine without any has none', () => {
  expect(packedSummaries({})).toEqual({});
});
