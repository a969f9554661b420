import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { collectFile } from '../support/foreign-file.ts';

const profile = (parts: object) => parseProfile(JSON.stringify({ name: 'yard', ...parts }), 'p.json');
const refusals = async (text: string, parts: object) => {
  const { setAside } = await collectFile('T-1.csv', text, profile(parts));
  return setAside.map(({ line, field, value, reason }) => `${line} ${field} ${value}: ${reason}`);
};

/** The same samples in the contract's own columns, and as a foreign logger in another country would write them. */
function twoWritings(rows: { ms: number; millivolts: number; tenthsOfF: number; amps: number }[]) {
  const plain = rows.map(({ ms, millivolts, tenthsOfF, amps }) =>
    ['T-1', new Date(ms).toISOString(), millivolts / 1000, roundedC(tenthsOfF / 10), amps].join(','),
  );
  const berlin = rows.map(({ ms, millivolts, tenthsOfF, amps }) => {
    const [day, clock] = berlinClock(ms);
    return [day, clock, millivolts, String(tenthsOfF / 10).replace('.', ','), amps, 'x'].join(';');
  });
  return {
    plain: `unit,time,volts,temp_c,amps\n${plain.join('\n')}\n`,
    foreign: `Datum;Uhrzeit;Spannung;Temperatur;Strom;Notiz\n${berlin.join('\n')}\n`,
  };
}
const roundedC = (f: number) => Math.round(((f - 32) * 5 * 1e9) / 9) / 1e9;
/** Written by the runtime's own calendar, not by the code under test. */
function berlinClock(ms: number): [string, string] {
  const parts = new Intl.DateTimeFormat('de-DE', {
    timeZone: 'Europe/Berlin',
    dateStyle: 'medium',
    timeStyle: 'medium',
  }).format(ms);
  const [day, clock] = parts.split(', ');
  return [day!, `${clock!},${String(ms % 1000).padStart(3, '0')}`];
}

const GERMAN = {
  delimiter: ';',
  decimalMark: ',',
  columns: {
    Datum: { field: 'time', part: 'date' },
    Uhrzeit: { field: 'time', part: 'time' },
    Spannung: { field: 'volts', unitOfMeasure: 'mV' },
    Temperatur: { field: 'temp_c', unitOfMeasure: '°F' },
    Strom: 'amps',
  },
  time: { format: 'dd.MM.yyyy HH:mm:ss.SSS', zone: 'Europe/Berlin' },
  unit: 'T-1',
};

describe('another writing of the same rows gives the same rows', () => {
  it('mV, °F, decimal comma, semicolons, local time in two columns', async () => {
    const rows = Array.from({ length: 3000 }, (_, at) => ({
      ms: Date.UTC(2026, 2, 28, 23) + at * 7919,
      millivolts: 6000 + ((at * 997) % 9000),
      tenthsOfF: (at * 31) % 1200,
      amps: (at % 50) - 10,
    }));
    const { plain, foreign } = twoWritings(rows);
    const expected = await collectFile('a.csv', plain, null);
    const got = await collectFile('b.csv', foreign, profile(GERMAN));
    expect(expected.samples.length).toBe(3000);
    expect(got.samples).toEqual(expected.samples);
    expect(got.report).toEqual({ ...expected.report, unknownColumns: ['Notiz'] });
  });

  it('records: work orders with day-month-year, miles, clock hours, decimal comma, words and constants', async () => {
    const plain = [
      'work_order,unit,opened,closed,odometer_km,labor_hours,parts_cost,road_call,complaint,position',
      'W-1,T-1,2026-03-01,2026-03-02T08:30:00+01:00,160.9344,1.5,1234.50,1,"no crank, again",left',
      'W-2,T-2,2026-03-03,,0,0.25,,0,"two\nlines",left',
      'W-3,T-2,2026-03-04,,1.609344,2,7,,"say ""no""",left',
    ];
    const foreign = [
      'Nr|Vehicle|Reported|Done|Miles|Work|Parts|On the road|Text',
      'W-1|T-1|01/03/2026|02/03/2026 08:30|100|1:30|$1.234,50|yes|no crank, again',
      'W-2|T-2|03/03/2026|n/a|0|0:15|n/a|no|"two\nlines"',
      'W-3|T-2|04/03/2026|n/a|1|2:00|7||"say ""no"""',
    ];
    const parts = {
      delimiter: '|',
      decimalMark: ',',
      missingMarks: ['n/a'],
      columns: {
        Nr: 'work_order',
        Vehicle: 'unit',
        Reported: { field: 'opened', format: 'dd/MM/yyyy' },
        Done: 'closed',
        Miles: { field: 'odometer_km', unitOfMeasure: 'mi' },
        Work: { field: 'labor_hours', unitOfMeasure: 'h:mm' },
        Parts: 'parts_cost',
        'On the road': { field: 'road_call', values: { yes: '1', no: '0' } },
        Text: 'complaint',
      },
      constants: { position: 'left' },
      time: { format: 'dd/MM/yyyy HH:mm', zone: 'Europe/Berlin' },
    };
    const expected = await collectFile('a.csv', `${plain.join('\n')}\n`, null);
    const got = await collectFile('b.csv', `${foreign.join('\n')}\n`, profile(parts));
    expect(expected.orders.length).toBe(3);
    expect(got.orders).toEqual(expected.orders);
    expect(got.setAside).toEqual([]);
  });

  it('clocks of twelve hours, epochs, offsets in the text and month names', async () => {
    const us = Date.UTC(2026, 2, 1, 18, 5, 9, 250) * 1000;
    for (const [format, text, zone] of [
      ['M/d/yyyy h:mm:ss.SSS a', '3/1/2026 6:05:09.250 PM', 'UTC'],
      ['yyyy-MM-dd HH:mm:ss.SSS', '2026-03-01 13:05:09.25', 'America/New_York'],
      ['d MMM yyyy HH:mm:ss.S X', '1 Mar 2026 19:05:09.25 +01:00', undefined],
      ["yyyyMMdd'T'HHmmss.S", '20260301T190509.25', '+01:00'],
      ['dd.MM.yy HH:mm:ss.S', '01.03.26 19:05:09.25', 'Europe/Berlin'],
      ['epoch_s', '1772388309.25', undefined],
      ['epoch_ms', '1772388309250', undefined],
      ['epoch_us', '1772388309250000', undefined],
      ['epoch_ns', '1772388309250000123', undefined],
      ['iso', '2026-03-01T18:05:09.25', 'UTC'],
      ['iso', '2026-03-01T19:05:09.25+01:00', undefined],
    ] as const) {
      const time = zone === undefined ? { format } : { format, zone };
      const { samples, setAside } = await collectFile(
        'x.csv',
        `T;V\n${text};12\n`,
        profile({
          delimiter: ';',
          unit: 'T-1',
          columns: { T: 'time', V: 'volts' },
          time,
        }),
      );
      expect(setAside, format).toEqual([]);
      expect(samples[0]!['timeUs'], format).toBe(us);
    }
  });
});

it('a current clamp of 1 mV/A gives amperes by its scale', async () => {
  const clamp = { Zeit: 'time', U: 'volts', CH2: { field: 'amps', scale: 1000 } };
  const { samples } = await collectFile(
    'T-1.csv',
    'Zeit,U,CH2\n2026-03-01T06:00:00Z,9.8,0.432\n',
    profile({ columns: clamp, unit: 'T-1' }),
  );
  expect(samples.map(({ amps }) => amps)).toEqual([432]);
  expect(() => profile({ columns: { n: { field: 'complaint', scale: 2 } } })).toThrow(
    'profile requires a field that holds a number, got complaint (p.json /columns/n/scale)',
  );
});

it('thousands are taken apart where nothing is in doubt', async () => {
  const read = async (miles: string, parts: object) => {
    const columns = { WO: 'work_order', Miles: { field: 'odometer_km', unitOfMeasure: 'mi' } };
    const { orders, setAside } = await collectFile(
      'x.csv',
      `WO;unit;opened;Miles\n1;T-1;2026-03-01;${miles}\n`,
      profile({ columns, delimiter: ';', ...parts }),
    );
    return orders[0]?.row.odometerKm ?? setAside[0]!.reason;
  };
  expect(await read('100,000.5', {})).toBeCloseTo(100_000.5 * 1.609344, 6);
  expect(await read('100.000,5', { decimalMark: ',' })).toBeCloseTo(100_000.5 * 1.609344, 6);
  expect(await read('100,000', { groupMark: ',' })).toBeCloseTo(100_000 * 1.609344, 6);
  expect(await read("1'100'000", { groupMark: "'" })).toBeCloseTo(1_100_000 * 1.609344, 6);
  expect(await read('100,000', {})).toBe('odometer_km requires a number (mi)');
  expect(await read('100,00.5', {})).toBe('odometer_km requires a number (mi)');
  expect(() => profile({ decimalMark: ',', groupMark: ',' })).toThrow(
    'profile requires another mark than that of decimals (,), got , (p.json /groupMark)',
  );
});

it('a profile that only says the zone leaves the rest as the contract has it', async () => {
  const { samples } = await collectFile(
    'x.csv',
    'unit,time,volts\nT-1,2026-03-01T07:00:00.125,12.5\n',
    profile({ time: { zone: 'Europe/Berlin' } }),
  );
  expect(samples.map(({ timeUs }) => timeUs)).toEqual([Date.UTC(2026, 2, 1, 6, 0, 0, 125) * 1000]);
});

it('a current whose discharge is negative is turned round', async () => {
  const by = profile({ unit: 'T-1', columns: { I: { field: 'amps', unitOfMeasure: 'mA', reversed: true } } });
  const { samples } = await collectFile('x.csv', 'time,volts,I\n1772345678000,12,-410500\n1772345678001,12,0\n', by);
  expect(samples.map(({ amps }) => amps)).toEqual([410.5, 0]);
});

describe('what a profile cannot read sets its row aside, as written', () => {
  const parts = { ...GERMAN, columns: { ...GERMAN.columns, Weg: 'record' } };
  const HEADER = 'Datum;Uhrzeit;Spannung;Temperatur\n';
  it('numbers, times and counts of fields', async () => {
    const rows = [
      '01.03.2026;06:00:00;12.500;20',
      '31.02.2026;06:00:00;12500;20',
      '01.03.2026;;12500;20',
      '01.03.2026;06:00:00;low;20',
      '01.03.2026;06:00:00;12500',
      '01.03.2026;06:00:00;12500;20;;',
      '01.03.2026;06:00:00;12500;20;1',
      '01.03.2026;06:00:00;12500;320',
    ];
    expect(await refusals(HEADER + rows.join('\n'), parts)).toEqual([
      '2 volts 12.500: volts requires a decimal comma, as the profile says',
      '3 time 31.02.2026 06:00:00: time requires a time as the profile says (dd.MM.yyyy HH:mm:ss.SSS)',
      '4 time 01.03.2026: time requires a time as the profile says (dd.MM.yyyy HH:mm:ss.SSS)',
      '5 volts low: volts requires a number (mV)',
      '6  01.03.2026;06:00:00;12500: row requires 4 fields as in the header',
      '8  01.03.2026;06:00:00;12500;20;1: row requires 4 fields as in the header',
      '9 temp_c 160: temp_c requires a value from -70 to 150 °C (converted from °F)',
    ]);
  });
  it('hours that the clocks skip or show twice, clocks that were never set', async () => {
    const rows = ['29.03.2026;02:30:00;12500;20', '25.10.2026;02:30:00;12500;20', '01.01.1970;06:00:00;12500;20'];
    expect(await refusals(HEADER + rows.join('\n'), parts)).toEqual([
      '2 time 29.03.2026 02:30:00: time requires an hour that the clocks of its zone show, not one that they skip',
      '3 time 25.10.2026 02:30:00: time requires an offset in the hour that the clocks of its zone show twice',
      '4 time 1970-01-01T05:00:00Z: time requires a date from 1990 on: the clock was not set',
    ]);
  });
  it('text that is no UTF-8, unless the profile names its encoding', async () => {
    const text = Buffer.from('Datum;Uhrzeit;Spannung;Weg\n01.03.2026;06:00:00;12500;"Süd, 1"\n', 'latin1');
    const { setAside } = await collectFile('x.csv', text, profile(parts));
    expect(setAside.map(({ field, reason }) => [field, reason])).toEqual([
      ['record', 'record requires text in UTF-8, or the encoding in the profile'],
    ]);
    const { samples } = await collectFile('x.csv', text, profile({ ...parts, encoding: 'windows-1252' }));
    expect(samples.map(({ record }) => record)).toEqual(['Süd, 1']);
  });
  it('a time without zone asks for it', async () => {
    expect(await refusals('time,volts\n2026-03-01T06:00:00,12\n', { unit: 'T-1', time: { format: 'iso' } })).toEqual([
      '2 time 2026-03-01T06:00:00: time requires a zone: give time.zone in the profile',
    ]);
  });
});

describe('which files a profile reads', () => {
  it('one of the contract among them keeps its own columns, and says so', async () => {
    const register = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders\nT-9,N,van,12,1,700,4\n';
    const { units, report } = await collectFile('units.csv', register, profile(GERMAN));
    expect(units.map(({ row }) => row.unit)).toEqual(['T-9']);
    expect(report.notes).toEqual(['the profile does not fit this file: read by its own columns']);
  });
  it('one that neither fits is refused with what it lacks', async () => {
    await expect(collectFile('x.csv', 'Datum;Uhrzeit;Strom\n', profile(GERMAN))).rejects.toThrow(
      "file requires the columns of a known kind, got time, amps, unit: nearest is waveform, which also needs volts (by the profile yard, without the profile's columns Spannung, Temperatur)",
    );
  });
  it('one of another kind than the profile makes is refused', async () => {
    const text = 'Datum;Uhrzeit;Spannung;depot;class\n';
    await expect(collectFile('x.csv', text, profile({ ...GERMAN, kind: 'cranks' }))).rejects.toThrow(
      'file requires the columns of cranks, got Datum, Uhrzeit, Spannung, depot, class (by the profile yard)',
    );
  });
});

describe('every row of a foreign file is used or counted', () => {
  const cell = fc.oneof(
    fc.constantFrom(
      '12500',
      '12,5',
      '1e3',
      '',
      '"',
      '"a;b"',
      '"a\nb"',
      '01.03.2026',
      '06:00:00',
      '06:00:00,25',
      'x',
      ' 7 ',
    ),
    fc.string({ maxLength: 12 }),
  );
  const row = fc.array(cell, { minLength: 0, maxLength: 6 }).map((cells) => cells.join(';'));
  it('whatever stands in it', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 30 }), fc.nat(), async (rows, cut) => {
        const good = '01.03.2026;06:00:00;12500;20';
        const text = ['Datum;Uhrzeit;Spannung;Temperatur', good, ...rows, ''].join('\n');
        const { report, samples, setAside } = await collectFile('x.csv', text, profile(GERMAN), cut);
        expect([samples.length, setAside.length]).toEqual([report.taken, report.setAside]);
        const lines = [...samples.map(({ line }) => Number(line)), ...setAside.map(({ line }) => line)];
        // One row can span lines inside quotes; no line is told twice, and none beyond the end.
        expect(new Set(lines).size).toBe(lines.length);
        expect(Math.max(...lines)).toBeLessThanOrEqual(text.split(/\r?\n|\r/).length);
        expect(lines).toContain(2);
      }),
      { numRuns: 300 },
    );
  });
});
