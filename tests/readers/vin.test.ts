import { expect, it } from 'vitest';
import { unitsCsv } from '../../etl/readers/kinds/units-csv.ts';
import { vinCheckDigit, vinNote, vinWeightedSum } from '../../etl/readers/kinds/vin.ts';
import { collect, textStream } from '../support/collected-rows.ts';

// Worked examples published with ISO 3779 / 49 CFR 565.
it('gives the check digits of the published examples', () => {
  expect(vinWeightedSum('1M8GDM9AXKP042788')).toBe(351);
  expect(vinCheckDigit('1M8GDM9AXKP042788')).toBe('X');
  expect(vinCheckDigit('11111111111111111')).toBe('1');
});

it('refuses what is no VIN', () => {
  expect(() => vinCheckDigit('1M8GDM9AXKPO42788')).toThrow(
    'VIN requires 17 capital letters and digits without I, O, Q, got 1M8GDM9AXKPO42788 (vin)',
  );
  expect(vinNote('1M8GDM9AXKP042788')).toBeNull();
});

it('a unit with a mistyped VIN is kept and noted', async () => {
  const header = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,vin\n';
  const rows = ['1M8GDM9AXKP042788', '1M8GDM9A1KP042788', 'SHORT', ''].map(
    (vin, n) => `U${n},D,bus,24,2,900,6,${vin}\n`,
  );
  const { report, units } = await collect(unitsCsv, textStream(header + rows.join('')));
  expect(report).toMatchObject({ taken: 4, setAside: 0 });
  expect(units.map(({ row }) => row.vin)).toEqual(['1M8GDM9AXKP042788', '1M8GDM9A1KP042788', 'SHORT', null]);
  expect(report.notes).toEqual([
    'line 3: vin 1M8GDM9A1KP042788 has 1 where the check digit would be X: fine outside North America',
    'line 4: vin SHORT is no VIN: 17 capital letters and digits without I, O, Q',
  ]);
});
