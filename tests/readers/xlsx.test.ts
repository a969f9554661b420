import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPaths } from '../../etl/load.ts';
import { collectFile } from '../support/collected-file.ts';
import { sheetXml, workbookOf, zipOf } from '../support/spreadsheets.ts';
import { NOW_US, withStore } from '../support/store-folder.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'xlsx-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function read(bytes: Uint8Array) {
  const path = join(folder, 'book.xlsx');
  await writeFile(path, bytes);
  return collectFile(path);
}

const UNITS = [
  'unit',
  'depot',
  'class',
  'system_volts',
  'battery_count',
  'battery_cca',
  'cylinders',
  'in_service_date',
];
const DAY = new Date('2020-05-04T00:00:00Z');

describe('a register in a spreadsheet', () => {
  it('numbers of text fields keep their written form; days are days; blank rows are none', async () => {
    const book = workbookOf({
      Fleet: sheetXml([
        UNITS,
        ['014', 'North', 'van', 12, 1, 700, 4, DAY],
        [14, 'North', 1e6, '12', 1, { formula: '350*2', value: 700 }, 4, '2020-05-04'],
        [],
        ['9007199254740993', ' North ', 'van', 24, 2, 900.5, 6, null],
      ]),
    });
    const all = await read(book);
    expect(all.reader).toBe('units-xlsx');
    expect(all.report).toEqual({ kind: 'units', taken: 3, setAside: 0, unknownColumns: [], notes: [] });
    expect(
      all.units.map(({ line, row }) => [line, row.unit, row.depot, row.class, row.batteryCcaA, row.inServiceOn]),
    ).toEqual([
      [2, '014', 'North', 'van', 700, '2020-05-04'],
      [3, '14', 'North', '1000000', 700, '2020-05-04'],
      [5, '9007199254740993', 'North', 'van', 900.5, null],
    ]);
    expect(all.hash).toMatch(/^[0-9a-f]{64}$/);
  });

  it('every sheet with a known header is read, below its title; why the others are not is told', async () => {
    const header = UNITS.slice(0, 7).map((name) => ` ${name.toUpperCase()}`);
    const book = workbookOf({
      Notes: sheetXml([['see the next sheet']]),
      Fleet: sheetXml(
        [['Fleet of the north', null], [], [...header, 'colour'], ['U1', 'N', 'van', 12, 1, 700, 4, 'red']],
        'A1:B1',
      ),
      'Old ones': sheetXml([UNITS, ['U1', 'N', 'van', 12, 1, 600, 4], [], ['U2', 'S', 'van', 24, 1, 700, 4], ['U3']]),
      Empty: sheetXml([]),
    });
    const { report, units, setAside } = await read(book);
    expect(report).toEqual({
      kind: 'units',
      taken: 3,
      setAside: 1,
      unknownColumns: ['colour (sheet Fleet)'],
      notes: [
        'sheet not read: file requires the columns of a known kind, got see the next sheet (sheet Notes, row 1)',
        'sheet Fleet: 1 row taken as units, 0 set aside',
        'sheet Old ones: 2 rows taken as units, 1 set aside',
      ],
    });
    // Lines tell the sheets apart.
    expect(units.map(({ line, row }) => [line, row.unit, row.batteryCcaA])).toEqual([
      [4, 'U1', 700],
      [1_048_576 + 2, 'U1', 600],
      [1_048_576 + 4, 'U2', 700],
    ]);
    expect(setAside).toMatchObject([{ line: 5, reason: 'depot requires a value (sheet Old ones)' }]);
  });

  it('what cannot be used is set aside with the row of the sheet', async () => {
    const book = workbookOf({
      Fleet: sheetXml([UNITS, ['U1', 'N', 'van', 13, 1, 700, 4], [null, 'N', 'van', 12, 1, 700, 4]]),
    });
    expect((await read(book)).setAside).toEqual([
      { line: 2, field: 'system_volts', value: '13', reason: 'system_volts requires 12 or 24' },
      { line: 3, field: 'unit', value: '', reason: 'unit requires a value' },
    ]);
  });
});

describe('records in a spreadsheet', () => {
  it('flags, money and days of work orders; a time of day needs a zone', async () => {
    const rows = [
      ['work_order', 'unit', 'opened', 'closed', 'road_call', 'parts_cost', 'complaint'],
      [4711, 'U1', DAY, null, true, 183.05, 'no start, "click" only'],
      ['W2', 'U1', new Date('2020-05-04T06:30:00Z'), null, 0, null, null],
    ];
    const { orders, setAside } = await read(workbookOf({ Orders: sheetXml(rows) }));
    expect(orders.map(({ row }) => row)).toMatchObject([
      {
        workOrder: '4711',
        openedUs: Date.UTC(2020, 4, 4) * 1000,
        closedUs: null,
        roadCall: true,
        partsCostMinor: 18_305,
        complaint: 'no start, "click" only',
      },
    ]);
    expect(setAside).toEqual([
      {
        line: 3,
        field: 'opened',
        value: '2020-05-04T06:30:00',
        reason: 'opened requires a date YYYY-MM-DD or an instant with zone: give time.zone in a profile',
      },
    ]);
  });

  it('bays, shop visits, bench tests, codes and fitted parts', async () => {
    const kinds: [string, (string | number | Date)[][]][] = [
      [
        'bays',
        [
          ['depot', 'bay', 'weekday', 'hours'],
          ['N', 1, 7, 7.5],
        ],
      ],
      [
        'shop_visits',
        [
          ['unit', 'date', 'depot'],
          ['U1', DAY, 'N'],
        ],
      ],
      [
        'bench_tests',
        [
          ['unit', 'time', 'test', 'value', 'unit_of_measure'],
          ['U1', DAY, 'brush_length', 9, 'mm'],
        ],
      ],
      [
        'codes',
        [
          ['unit', 'time', 'spn', 'fmi'],
          ['U1', DAY, 168, 1],
        ],
      ],
      [
        'components',
        [
          ['unit', 'component', 'fitted'],
          ['U1', 'battery', DAY],
        ],
      ],
    ];
    for (const [kind, rows] of kinds) {
      const { report } = await read(workbookOf({ Sheet1: sheetXml(rows) }));
      expect(report).toMatchObject({ kind, taken: 1, setAside: 0 });
    }
  });
});

describe('a workbook of several kinds', () => {
  const orders = [
    ['work_order', 'unit', 'opened', 'complaint'],
    ['W1', 'U1', DAY, 'no crank'],
    ['W2', 'U1', 'soon', 'no crank'],
  ];
  const book = {
    Register: sheetXml([UNITS, ['U1', 'N', 'van', 12, 1, 700, 4]]),
    Orders: sheetXml(orders),
    'Orders 2019': sheetXml([orders[0]!, ['W0', 'U1', DAY, 'slow crank']]),
  };

  it('is one file: every sheet gives its rows, a log is set aside by name', async () => {
    const log = sheetXml([
      ['unit', 'time', 'volts'],
      ['U1', 1.7e12, 12],
    ]);
    const all = await read(workbookOf({ ...book, Log: log }));
    expect([all.reader, all.report.kind, all.report.taken, all.report.setAside]).toEqual([
      'workbook-xlsx',
      'workbook',
      3,
      2,
    ]);
    expect([all.units.length, all.orders.map(({ row }) => row.workOrder)]).toEqual([1, ['W1', 'W0']]);
    expect(all.setAside.map(({ line, value, reason }) => [line, value, reason])).toEqual([
      [3, 'soon', expect.stringMatching(/^opened requires a date .* \(sheet Orders\)$/)],
      [0, 'Log', 'spreadsheet requires registers or records, got waveform: save it as CSV or Parquet (sheet Log)'],
    ]);
  });

  it('comes into the store as a whole and goes as a whole, with equal lines on two sheets', async () => {
    await writeFile(join(folder, 'whole.xlsx'), workbookOf(book));
    await withStore(join(folder, 'whole.sqlite'), async (store) => {
      const { files } = await loadPaths(store, [join(folder, 'whole.xlsx')], { nowUs: NOW_US });
      expect(files[0]).toMatchObject({ result: 'loaded', kind: 'workbook', taken: 3, setAside: 1 });
      const known = async () => [
        (await store.units()).length,
        (await store.workOrders(Infinity)).map(({ workOrder }) => workOrder).toSorted(),
      ];
      expect(await known()).toEqual([1, ['W0', 'W1']]);
      await store.unload(files[0]!.importId!);
      expect(await known()).toEqual([0, []]);
    });
  });
});

describe('a workbook that is refused says why and what to do', () => {
  it('logs', async () => {
    const log = sheetXml([
      ['unit', 'time', 'volts'],
      ['U1', 1.7e12, 12],
    ]);
    await expect(read(workbookOf({ Log: log }))).rejects.toThrow(
      'spreadsheet requires registers or records, got waveform: save it as CSV or Parquet',
    );
  });

  it('no known header: the nearest kind, and where was looked', async () => {
    await expect(read(workbookOf({ S: sheetXml([['unit', 'depot']]) }))).rejects.toThrow(
      /file requires the columns of a known kind, got unit, depot.* \(sheet S, row 1\)/,
    );
    await expect(read(workbookOf({ S: sheetXml([]) }))).rejects.toThrow('got an empty spreadsheet');
  });

  it('cut short, damaged, another archive', async () => {
    const whole = workbookOf({ S: sheetXml([UNITS]) });
    await expect(read(whole.subarray(0, whole.length - 30))).rejects.toThrow('got one that ends early');
    const damaged = Buffer.from(whole);
    damaged.fill(0xff, 60, 90);
    await expect(read(damaged)).rejects.toThrow(/spreadsheet requires a whole ZIP archive, got damaged/);
    await expect(read(zipOf({ 'xl/readme.txt': 'hello' }))).rejects.toThrow('spreadsheet requires a workbook (.xlsx)');
    await expect(read(zipOf({ 'photo.jpg': 'hello' }))).rejects.toThrow('got a ZIP archive or spreadsheet');
  });

  it('more than memory: by what the directory says, by what comes out, by a lone cell far away', async () => {
    const zeros = Buffer.alloc(130 * 2 ** 20);
    await expect(read(zipOf({ 'xl/zeros.xml': zeros }))).rejects.toThrow(
      /spreadsheet requires at most 134217728 bytes unzipped, got more/,
    );
    const liar = zipOf({ 'xl/zeros.xml': Buffer.alloc(2 ** 20) });
    const directory = liar.lastIndexOf(Buffer.from('PK\u0001\u0002', 'latin1'));
    liar.writeUInt32LE(1000, directory + 24);
    await expect(read(liar)).rejects.toThrow('spreadsheet requires a whole ZIP archive, got damaged data');
    const far = sheetXml([UNITS]).replace('</row>', '</row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row>');
    await expect(read(workbookOf({ S: far }))).rejects.toThrow(
      'spreadsheet requires sheets of at most 4000000 cells, got 1048576 rows by 16384 columns: save it as CSV',
    );
  });
});
