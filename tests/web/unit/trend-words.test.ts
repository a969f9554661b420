import { expect, it } from 'vitest';
import type { UnitTrend } from '../../../api/contract/unit.ts';
import { trendSentence } from '../../../web/unit/trend-words.ts';

const trend: UnitTrend = {
  position: '',
  component: 'battery',
  indicator: 'crank_volts',
  level: 16.79,
  slopePerYear: -3.16,
  slopeLow: -4.11,
  slopeHigh: -2.2,
  senSlopePerYear: null,
  pValue: 0.0002,
  n: 514,
  sinceOn: '2024-11-01',
  residual: 0.4,
  standing: 'trend',
  days: [],
  values: [],
  rawValues: [],
};

it('says level and slope in the indicator’s unit, the interval, and on how many days it rests', () => {
  expect(trendSentence(trend)).toBe(
    'Now 16.79\u00a0V; −3.16\u00a0V a year (95 % interval −4.11 to −2.20\u00a0V, p <\u00a00.001); 514 days since 1 Nov 2024.',
  );
});

it('says a logarithm as the ratio that it stands for: e^0.25 = 1.28, and 0.44 a year is 55 % a year', () => {
  const sag = { ...trend, indicator: 'log_sag_ratio' as const, level: 0.25, slopePerYear: 0.44 };
  expect(trendSentence({ ...sag, slopeLow: 0, slopeHigh: Math.log(2) })).toContain(
    'Now 1.28; +55\u00a0% a year (95 % interval 0 to +100\u00a0%',
  );
});

it('refuses with the number of days', () => {
  const short = { ...trend, level: null, slopePerYear: null, standing: 'too_few_points', n: 3 };
  expect(trendSentence(short)).toBe('No trend: too few days with a value for a trend; 3 days have a value.');
});
