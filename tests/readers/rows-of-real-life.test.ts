import { describe, expect, it } from 'vitest';
import { crankCsv } from '../../etl/readers/kinds/crank-csv.ts';
import { doubtingReader } from '../../etl/readers/kinds/doubtful-units.ts';
import { baysCsv } from '../../etl/readers/kinds/shop-csv.ts';
import { unitsCsv } from '../../etl/readers/kinds/units-csv.ts';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';
import { workOrdersCsv } from '../../etl/readers/kinds/work-orders-csv.ts';
import type { Reader, TableReader } from '../../etl/readers/reader.ts';
import { collect, collectInto, cutAt, textStream } from '../support/collected-rows.ts';

const lines = (...rows: string[]) => textStream(`${rows.join('\n')}\n`);
const told = async (reader: TableReader, ...rows: string[]) => {
  const { report, setAside } = await collect(reader, lines(...rows));
  return { taken: report.taken, reasons: setAside.map(({ reason }) => reason), aside: report.unknownColumns };
};

describe('times as programs write them', () => {
  const orders = async (...opened: string[]) => {
    const rows = opened.map((time, index) => `${index},T-1,"${time}"`);
    const { orders: read, setAside } = await collect(workOrdersCsv, lines('work_order,unit,opened', ...rows));
    return { opened: read.map(({ row }) => new Date(row.openedUs / 1000).toISOString()), setAside };
  };

  it('whole minutes without seconds, a decimal comma, a blank before the offset, the word UTC', async () => {
    const { opened } = await orders(
      '2025-05-01T08:30Z',
      '2025-05-01T08:30+02:00',
      '2025-05-01T08:30:00,125Z',
      '2025-05-01 08:30:00 +0200',
      '2025-05-01 08:30:00.250 UTC',
    );
    expect(opened).toEqual([
      '2025-05-01T08:30:00.000Z',
      '2025-05-01T06:30:00.000Z',
      '2025-05-01T08:30:00.125Z',
      '2025-05-01T06:30:00.000Z',
      '2025-05-01T08:30:00.250Z',
    ]);
  });

  it('the same in a log, where most rows are read by the fast way', async () => {
    const rows = ['06:59:59.990Z', '07:00Z', '07:00:00.010Z'].map((time) => `T-1,2025-05-01T${time},12.5`);
    const { samples } = await collect(waveformCsv, lines('unit,time,volts', ...rows));
    const from = Date.UTC(2025, 4, 1, 7) * 1000;
    expect(samples.map(({ timeUs }) => timeUs)).toEqual([from - 10_000, from, from + 10_000]);
  });

  it('a record of 1970 counts seconds, or its clock was not set', async () => {
    const { opened, setAside } = await orders('1746057600', '1970-01-01', '1746057600000');
    expect(opened).toEqual(['2025-05-01T00:00:00.000Z']);
    const reason = 'opened requires a date from 1990 on: the clock was not set, or it counts seconds';
    expect(setAside.map((row) => row.reason)).toEqual([reason, reason]);
  });

  it('a zone that is missing names the remedy, a date that is too old says so', async () => {
    const { setAside } = await orders('2025-05-01 08:30');
    expect(setAside[0]!.reason).toBe(
      'opened requires a date YYYY-MM-DD or an instant with zone: give time.zone in a profile',
    );
    const unit = 'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,in_service_date';
    expect((await told(unitsCsv, unit, 'T-1,N,van,12,1,700,4,1900-01-00')).reasons).toEqual([
      'in_service_date requires a date YYYY-MM-DD',
    ]);
    expect((await told(unitsCsv, unit, 'T-1,N,van,12,1,700,4,1900-01-01')).reasons).toEqual([
      'in_service_date requires a date from 1950 on',
    ]);
  });
});

describe('flags and numbers as tables keep them', () => {
  it('a column of flags with gaps is one of decimals, or of truth values', async () => {
    const rows = ['1.0', '0.0', '1.0000', 'true', 'FALSE', ''].map((flag, index) => `${index},T-1,2025-05-01,${flag}`);
    const { orders } = await collect(workOrdersCsv, lines('work_order,unit,opened,road_call', ...rows));
    expect(orders.map(({ row }) => row.roadCall)).toEqual([true, false, true, true, false, null]);
  });

  it('a day of the week that is none', async () => {
    const reason = 'weekday requires a whole number from 1 (Monday) to 7';
    const { reasons } = await told(baysCsv, 'depot,bay,weekday,hours', 'N,1,Monday,8', 'N,1,8,8', 'N,1,1.5,8');
    expect(reasons).toEqual([reason, reason, reason]);
  });

  it('volts that rise under the starter’s load are no crank; the others of the batch stay as they are', async () => {
    const rows = ['2025-05-01', '2025-05-02', '2025-05-03'].map(
      (day, index) => `T-${index},${day}T06:00:00Z,12.6,${[9, 13, 8.5][index]},0.8`,
    );
    const { cranks, setAside, report } = await collect(
      crankCsv,
      lines('unit,time,rest_volts,dip_volts,crank_seconds', ...rows),
    );
    expect(setAside).toEqual([
      { line: 3, field: 'dip_volts', value: '13', reason: 'dip_volts requires a value not over rest_volts' },
    ]);
    expect([report.taken, report.setAside]).toEqual([2, 1]);
    expect(cranks.map(({ unit, dipVolts }) => [unit, dipVolts])).toEqual([
      ['T-0', 9],
      ['T-2', 8.5],
    ]);
  });

  it('a gateway too slow for the inrush leaves the dip empty: its cranks count, unless they say nothing of the starter', async () => {
    const rows = ['9.8,', '9.8,', '9.6,7.9', ','].map((volts, day) => {
      const [cranking, dip] = volts.split(',');
      return `T,2025-05-0${day + 1}T06:00:00Z,12.6,${dip},${cranking},0.8`;
    });
    const { cranks, setAside } = await collect(
      crankCsv,
      lines('unit,time,rest_volts,dip_volts,crank_volts,crank_seconds', ...rows),
    );
    const reason = 'dip_volts requires a number where crank_volts is empty';
    expect(setAside).toEqual([{ line: 5, field: 'dip_volts', value: '', reason }]);
    expect(cranks.map(({ dipVolts, crankVolts }) => [dipVolts, crankVolts])).toEqual([
      [Number.NaN, 9.8],
      [Number.NaN, 9.8],
      [7.9, 9.6],
    ]);
  });

  it('seconds that are milliseconds are told', async () => {
    const { name, kind, version } = crankCsv;
    const reader = doubtingReader({ name, kind, version, read: async (file, sink) => crankCsv.read(file.bytes, sink) });
    const rows = Array.from(
      { length: 30 },
      (_, day) => `T-1,${new Date(1.7e12 + day * 864e5).toISOString()},12.6,9,850`,
    );
    const bytes = lines('unit,time,rest_volts,dip_volts,crank_seconds', ...rows);
    const { report } = await collectInto(async (sink) => reader.read({ path: 'cranks.csv', bytes }, sink));
    expect(report.notes).toEqual([
      'crank_seconds look like ms (850 in the middle): a profile with unitOfMeasure ms converts them',
    ]);
  });
});

describe('a current whose discharge is negative', () => {
  const notesOf = async (sign: number) => {
    const { name, kind, version } = waveformCsv;
    const reader = doubtingReader({
      name,
      kind,
      version,
      read: async (file, sink) => waveformCsv.read(file.bytes, sink),
    });
    const amps = [2, 430, 180, 175, 181, -40, -35];
    const rows = amps.map((value, i) => `T-1,2025-05-01T06:00:00.${i}00Z,12.5,${sign * value}`);
    const bytes = lines('unit,time,volts,amps', ...rows);
    return (await collectInto(async (sink) => reader.read({ path: 'x.csv', bytes }, sink))).report.notes;
  };
  it('is told', async () => {
    expect(await notesOf(1)).toEqual([]);
    expect(await notesOf(-1)).toEqual([
      'amps look reversed (-430 to 40 A): discharge counts positive, a profile turns it (reversed)',
    ]);
  });
});

describe('volts and times that no limit catches are told', () => {
  const notesOf = async (header: string, rows: readonly string[]) => {
    const { name, kind, version } = waveformCsv;
    const read: Reader['read'] = async (file, sink) => waveformCsv.read(file.bytes, sink);
    const bytes = lines(header, ...rows);
    const reader = doubtingReader({ name, kind, version, read });
    return (await collectInto(async (sink) => reader.read({ path: 'x.csv', bytes }, sink))).report.notes;
  };
  const thirty = Array.from({ length: 30 }, (_, at) => at);
  const times = thirty.map((at) => `2025-05-01T06:00:00.${String(at).padStart(3, '0')}Z`);

  it.each([
    [
      1.26,
      ['volts look divided (1.26 in the middle): a profile with scale, such as 10 for a probe of 10:1, converts them'],
    ],
    [12.6, []],
    [6.1, []],
    [0.01, []],
  ])('volts of %j', async (volts, notes) => {
    expect(
      await notesOf(
        'unit,time,volts',
        times.map((time) => `T-1,${time},${volts}`),
      ),
    ).toEqual(notes);
  });

  it.each([
    ['epoch_s', 1e9, ['time looks like epoch_s: a profile with time.format epoch_s reads it']],
    ['epoch_us', 1e3, ['time looks like epoch_us: a profile with time.format epoch_us reads it']],
    ['epoch_ns', 1, ['time looks like epoch_ns: a profile with time.format epoch_ns reads it']],
    ['epoch_ms', 1e6, []],
  ])('times in %s', async (_, nanos, notes) => {
    const rows = thirty.map((at) => `T-1,${((1_746_079_200_000 + 100 * at) * 1e6) / nanos},12.5`);
    expect(await notesOf('unit,time,volts', rows)).toEqual(notes);
  });

  it('amperes that are milliamperes', async () => {
    const amps = (at: number) => (at % 10 === 0 ? -3000 : 450_000);
    expect(
      await notesOf(
        'unit,time,volts,amps',
        times.map((time, at) => `T-1,${time},12.5,${amps(at)}`),
      ),
    ).toEqual(['amps look like mA: a profile with unitOfMeasure mA converts them']);
  });

  it.each([
    ['V', ['unit looks like a unit of measure (V), not a vehicle: a profile names the column or the unit']],
    ['V-1', []],
  ])('a unit of %s', async (unit, notes) => {
    expect(
      await notesOf(
        'unit,time,volts',
        times.map((time) => `${unit},${time},12.5`),
      ),
    ).toEqual(notes);
  });

  it('a clock of whole seconds, not a file of which each row stands twice', async () => {
    const many = Array.from({ length: 1000 }, (_, at) => at);
    const coarse = many.map((at) => `T-1,2025-05-01T06:00:0${Math.floor(at / 200)}Z,12.5`);
    expect(await notesOf('unit,time,volts', coarse)).toEqual([
      'time is written too coarsely, many rows have one instant: name a finer column, or samples_from_start in a profile',
    ]);
    const twice = many.map((at) => `T-1,${1_746_079_200_000 + 5 * Math.floor(at / 2)},12.5`);
    expect(await notesOf('unit,time,volts', twice)).toEqual([]);
  });
});

describe('what a power failure or a spreadsheet leaves behind', () => {
  it('zero bytes before a row are no part of a unit’s name', async () => {
    const good = 'T-1,2025-05-01T06:00:00.000Z,12.5';
    const { taken, reasons } = await told(waveformCsv, 'unit,time,volts', good, `\0\0\0\0${good}`, good);
    expect([taken, reasons]).toEqual([2, ['unit requires text in UTF-8 without control characters']]);
    const order = await told(workOrdersCsv, 'work_order,unit,opened', `\0\x001,T-1,2025-05-01`, '2,T\n-1,2025-05-01');
    expect([order.taken, order.reasons[0]]).toEqual([0, 'work_order requires a name without control characters']);
  });

  it('a register in the letters of an old spreadsheet keeps its other rows, and says what to do', async () => {
    const rows = ['unit,depot,class,system_volts,battery_count,battery_cca,cylinders', 'T-1,N,van,12,1,700,4'];
    const bytes = Buffer.from(`${rows.join('\n')}\nT-2,Süd,van,12,1,700,4\n`, 'latin1');
    const { report, setAside } = await collect(unitsCsv, cutAt(bytes, []));
    expect([report.taken, setAside.map(({ line, reason }) => [line, reason])]).toEqual([
      1,
      [[3, 'row requires text in UTF-8, or the encoding in a profile']],
    ]);
  });

  it('of two columns with one name the first is read, the second named; one without a name is none', async () => {
    const { samples, report } = await collect(
      waveformCsv,
      lines('unit,time,volts,volts,', 'T-1,2025-05-01T06:00:00.000Z,12.5,24.9,'),
    );
    expect(samples[0]!['volts']).toBe(12.5);
    expect(report.unknownColumns).toEqual(['volts (second)']);
    const unit = 'unit,unit,depot,class,system_volts,battery_count,battery_cca,cylinders,';
    expect(await told(unitsCsv, unit, 'T-1,T-2,N,van,12,1,700,4,')).toEqual({
      taken: 1,
      reasons: [],
      aside: ['unit (second)'],
    });
  });
});
