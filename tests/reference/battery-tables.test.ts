import { describe, expect, it } from 'vitest';
import { chargeBand, loadTestOhms } from '../../etl/outlook/battery-tables.ts';

describe('rested open-circuit voltage, TM 5-3805-262-20 p. 5-142', () => {
  const table: [volts: number, charge: number][] = [
    [12.6, 1],
    [12.4, 0.75],
    [12.2, 0.5],
    [12.0, 0.25],
    [11.7, 0],
  ];
  it.each(table)('%f V stands for a charge of %f: the band holds it', (volts, charge) => {
    const { low, high } = chargeBand(volts, 12);
    expect(low).toBeLessThanOrEqual(charge);
    expect(high).toBeGreaterThanOrEqual(charge);
    expect(high - low).toBeLessThanOrEqual(0.26);
    const bank = chargeBand(2 * volts, 24);
    expect(bank.low).toBeCloseTo(chargeBand((2 * volts) / 2, 12).low, 12);
  });
  it('is full above the table and empty below it', () => {
    expect(chargeBand(13, 12)).toEqual({ low: 1, high: 1 });
    expect(chargeBand(11, 12)).toEqual({ low: 0, high: 0 });
  });
});

describe('load test: half the CCA for 15 s at 20 °C leaves 9.6 V', () => {
  it('so the pass limit is 6.0 / CCA ohm', () => {
    expect(loadTestOhms(600, 12)).toBeCloseTo(6.0 / 600, 12);
    expect(loadTestOhms(1000, 24)).toBeCloseTo(12.0 / 1000, 12);
  });
  it('a healthy warm battery of 5.4 / CCA at −18 °C halved (EN and SAE cold ratings) passes', () => {
    expect(5.4 / 600 / 2).toBeLessThan(loadTestOhms(600, 12));
  });
});
