import { expect, it } from 'vitest';
import type { UnitTrend } from '../../../api/contract/unit.ts';
import { beyondSentence, dayWords, trendSentence } from '../../../web/unit/trend-words.ts';

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

const days = { ...trend, days: [20_000, 20_001, 20_002], values: [12.4, 31.149, 7], rawValues: [12.4, 16.2, 8] };

it('reads off a day: as logged too where that differs, a logarithm as its ratio', () => {
  expect(dayWords(days, 0)).toBe('4 Oct 2024: 12.40\u00a0V');
  expect(dayWords(days, 1)).toBe('5 Oct 2024: 31.15\u00a0V corrected, 16.20\u00a0V as logged');
  expect(dayWords({ ...days, indicator: 'log_sag_ratio', values: [0, 0, 0], rawValues: [0, 0, 0] }, 2)).toBe(
    '6 Oct 2024: 1.00',
  );
});

it('says which days lie beyond the axis', () => {
  expect(beyondSentence(days, [])).toBe('');
  expect(beyondSentence(days, [1])).toBe(
    'One day lies beyond the axis: 5 Oct 2024: 31.15\u00a0V corrected, 16.20\u00a0V as logged.',
  );
  expect(beyondSentence(days, [1, 2])).toBe(
    '2 days lie beyond the axis, corrected or as logged: 7.00\u00a0V to 31.15\u00a0V corrected.',
  );
});
