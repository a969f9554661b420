import { describe, expect, it } from 'vitest';
import { isCurrency, majorText, moneyWords } from '../../api/planning/money.ts';

describe('money', () => {
  it('is written in major units with the digits of its currency', () => {
    expect(majorText(133_080, 'USD')).toBe('1330.80');
    expect(majorText(5, 'EUR')).toBe('0.05');
    expect(majorText(-2958, 'USD')).toBe('-29.58');
    expect(majorText(1500, 'JPY')).toBe('1500');
    expect(majorText(1234, 'KWD')).toBe('1.234');
  });

  it('is rounded and grouped in sentences', () => {
    expect(moneyWords(133_080, 'USD')).toBe('USD 1,331');
    expect(moneyWords(123_456_789, 'USD')).toBe('USD 1,234,568');
    expect(moneyWords(40_000, 'USD')).toBe('USD 400');
  });

  it('knows which texts are currencies', () => {
    expect(['USD', 'usd', 'XX', 'ABCD', '=1+1'].map(isCurrency)).toEqual([true, false, false, false, false]);
  });
});
