import { describe, expect, it } from 'vitest';
import { benchTestsCsv } from '../../etl/readers/kinds/bench-tests-csv.ts';
import { codesCsv } from '../../etl/readers/kinds/codes-csv.ts';
import { baysCsv, shopVisitsCsv } from '../../etl/readers/kinds/shop-csv.ts';
import { collect, textStream } from '../support/collected-rows.ts';

const lines = (...rows: string[]) => textStream(`${rows.join('\n')}\n`);

describe('bench tests', () => {
  const header = 'unit,time,test,value,unit_of_measure,note';
  const value = async (row: string) => {
    const { benchResults, setAside } = await collect(benchTestsCsv, lines(header, row));
    return benchResults[0]?.row.value ?? [setAside[0]!.field, setAside[0]!.value, setAside[0]!.reason];
  };

  it('come in the unit of measure of their test', async () => {
    expect(await value('T-1,2026-03-01T06:00:00Z,open_circuit_voltage,12.41,V,')).toBe(12.41);
    expect(await value('T-1,2026-03-01T06:00:00Z,voltage_drop_positive,310,mV,')).toBeCloseTo(0.31, 12);
    expect(await value('T-1,2026-03-01T06:00:00Z,parasitic_drain,0.05,A,')).toBeCloseTo(50, 12);
    expect(await value('T-1,2026-03-01T06:00:00Z,solenoid_winding_resistance,1300,mΩ,')).toBeCloseTo(1.3, 12);
    // A capital M is a million: 10 MΩ from commutator to shaft is no reading at all, 10 mΩ a short.
    expect(await value('T-1,2026-03-01T06:00:00Z,armature_insulation,10,MΩ,')).toBe(10_000_000);
    // One inch is 25.4 mm by definition (international yard and pound agreement of 1959).
    expect(await value('T-1,2026-03-01T06:00:00Z,brush_length,0.5,in,')).toBeCloseTo(12.7, 12);
  });

  it('are set aside with a unit of measure of another kind, or a test that is not in the list', async () => {
    expect(await value('T-1,2026-03-01T06:00:00Z,brush_length,12,V,')).toEqual([
      'unit_of_measure',
      'V',
      'unit_of_measure requires mm or a unit of the same kind',
    ]);
    expect(await value('T-1,2026-03-01T06:00:00Z,shine,12,V,')).toEqual([
      'test',
      'shine',
      expect.stringContaining('test requires open_circuit_voltage'),
    ]);
  });
});

describe('trouble codes', () => {
  it('are read by SAE J2012 and by SAE J1939', async () => {
    const { codes } = await collect(
      codesCsv,
      lines('unit,time,code,spn,fmi', 'T-1,2026-03-01T06:00:00Z,p0562,,', 'T-2,2026-03-01T06:00:00Z,,168,1'),
    );
    expect(codes.map(({ row }) => [row.unit, row.code, row.spn, row.fmi])).toEqual([
      ['T-1', 'P0562', null, null],
      ['T-2', null, 168, 1],
    ]);
  });

  it('that say nothing, or what is none, are set aside', async () => {
    const { codes, setAside } = await collect(
      codesCsv,
      lines('unit,time,code,spn,fmi', 'T-1,2026-03-01T06:00:00Z,,168,', 'T-1,2026-03-01T06:00:00Z,X999,,'),
    );
    expect(codes).toEqual([]);
    expect(setAside.map(({ line, reason }) => [line, reason])).toEqual([
      [2, 'code requires a code, or both spn and fmi'],
      [3, 'code requires a code such as P0562'],
    ]);
  });
});

describe('bays and shop visits', () => {
  it('are read', async () => {
    const { bays } = await collect(baysCsv, lines('depot,bay,weekday,hours', 'North,1,1,8.5', 'North,1,8,8'));
    expect(bays).toEqual([{ line: 2, row: { depot: 'North', bay: '1', weekday: 1, hours: 8.5 } }]);
    const { visits } = await collect(shopVisitsCsv, lines('unit,date,depot', 'T-1,2026-04-01,North'));
    expect(visits).toEqual([{ line: 2, row: { unit: 'T-1', visitOn: '2026-04-01', depot: 'North', reason: null } }]);
  });
});
