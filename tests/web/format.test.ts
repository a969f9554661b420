import { describe, expect, it } from 'vitest';
import {
  age,
  change,
  counted,
  date,
  decimal,
  fileSize,
  fromDay,
  instant,
  money,
  probability,
  pValue,
  quantity,
  shortDate,
  unbroken,
  withDates,
} from '../../web/format.ts';

describe('numbers as text', () => {
  it('uses a true minus, fixed decimals and no sign on a rounded zero', () => {
    expect(decimal(-0.126, 2)).toBe('−0.13');
    expect(decimal(-0.001, 2)).toBe('0.00');
    expect(decimal(12.4, 2)).toBe('12.40');
    expect(change(0.12, 2)).toBe('+0.12');
    expect(change(-0.12, 2)).toBe('−0.12');
    expect(quantity(12.41, 'V', 1)).toBe('12.4\u00a0V');
    expect(quantity(0.5, '', 2)).toBe('0.50');
  });

  it('sizes of files step by a thousand', () => {
    expect([0, 999, 1000, 12_345, 1_449_000_000, 5e15].map(fileSize)).toEqual([
      '0\u00a0B',
      '999\u00a0B',
      '1.0\u00a0kB',
      '12\u00a0kB',
      '1.4\u00a0GB',
      '5,000\u00a0TB',
    ]);
  });

  it('shows what is not known as a dash, never as zero', () => {
    expect([decimal(null, 1), quantity(null, 'V', 1), probability(null), money(null, 'USD'), date(null)]).toEqual(
      Array.from({ length: 5 }, () => '–'),
    );
    expect([change(null, 1), pValue(null), shortDate(null), instant(null)]).toEqual(['–', '–', '–', '–']);
    expect(age(null)).toBe('age unknown');
  });

  it('never claims certainty', () => {
    expect(probability(0)).toBe('<\u00a01\u00a0%');
    expect(probability(1)).toBe('>\u00a099\u00a0%');
    expect(probability(0.456)).toBe('46\u00a0%');
    expect(pValue(0.0004)).toBe('<\u00a00.001');
    expect(pValue(0.0316)).toBe('0.032');
  });

  it('shows money in whole major units of its currency, also of one without cents', () => {
    expect(money(51_792, 'USD')).toBe('$518');
    expect(money(-125_000, 'EUR')).toBe('−€1,250');
    // The yen has no minor unit (ISO 4217).
    expect(money(51_792, 'JPY')).toBe('¥51,792');
  });

  it('counts in words', () => {
    expect(counted(1, 'row', 'rows')).toBe('1 row');
    expect(counted(0, 'row', 'rows')).toBe('0 rows');
    expect(counted(12_000, 'row', 'rows')).toBe('12,000 rows');
  });
});

describe('dates as text', () => {
  it('reads days and instants in UTC, whatever the clock of the machine', () => {
    expect(date('2026-03-01')).toBe('1 Mar 2026');
    expect(shortDate('2026-12-31')).toBe('31 Dec');
    expect(instant('2026-02-28T23:59:30Z')).toBe('28 Feb 2026, 23:59\u00a0UTC');
  });

  it('says distances in the largest unit that is still exact enough', () => {
    const from = (on: string) => fromDay(on, '2026-03-01');
    expect(from('2026-03-01')).toBe('today');
    expect(from('2026-03-02')).toBe('tomorrow');
    expect(from('2026-03-14')).toBe('in 13 days');
    expect(from('2026-03-22')).toBe('in 3 weeks');
    expect(from('2025-12-01')).toBe('3 months ago');
    expect(from('2029-03-01')).toBe('in 3 years');
    expect([age(410), age(1511)]).toEqual(['410 days', '4.1 years']);
  });
});

describe('words of the server', () => {
  it('keep a number and its unit on one line', () => {
    expect(unbroken('sag ratio 0.87 (class tractor truck: 0.66), −25 % a year; 10.4 V since')).toBe(
      'sag ratio 0.87 (class tractor truck: 0.66), −25\u00a0% a year; 10.4\u00a0V since',
    );
    expect(unbroken('5 starts of 7 Vans')).toBe('5 starts of 7 Vans');
    expect(unbroken('9.1 V at -1 °C (TM 5-3805-262-20), on 2026-10-31')).toBe(
      '9.1\u00a0V at −1\u00a0°C (TM 5-3805-262-20), on 2026-10-31',
    );
  });

  it('have dates as the pages write them, and numbers of manuals as they are', () => {
    expect(withDates('visit on 2026-12-25 (TM 5-3805-262-20, W2026-12)')).toBe(
      'visit on 25 Dec 2026 (TM 5-3805-262-20, W2026-12)',
    );
  });
});
