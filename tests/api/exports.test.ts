import { DuckDBInstance } from '@duckdb/node-api';
import { tableFromIPC } from 'apache-arrow';
import { parse } from 'csv-parse/sync';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arrowBlocks } from '../../api/export/arrow-writer.ts';
import { cellText, spreadsheetText } from '../../api/export/cell-text.ts';
import { csvBlocks } from '../../api/export/csv-writer.ts';
import { columns, type Cells, type Column } from '../../api/export/export-table.ts';
import { EXPORTS } from '../../api/export/exports.ts';
import { ndjsonBlocks } from '../../api/export/ndjson-writer.ts';
import { withParquet } from '../../api/export/parquet-writer.ts';
import { plainNumber } from '../../api/export/plain-number.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { AS_OF, assessedStore, awkwardFleet, NOW_MS } from '../support/fleet-app.ts';
import { workOrder } from '../support/work-orders.ts';

/** The columns that outsiders rely on, in their order. */
const NAMES: Record<string, string> = {
  cranks:
    'unit,time,source,rest_volts,dip_volts,crank_volts,charge_volts,crank_seconds,crank_rpm,ripple_hz,sag_ratio,amps_peak,temp_c,dropouts,dropout_seconds,pattern,suspect,outcome,start_id,quality,file,line,position,relative_compression',
  'work-orders': 'work_order,unit,opened,component,event,unplanned,position,words',
  lives: 'unit,component,fitted,removed,end,fitted_from,work_order,position',
  trends: 'as_of,unit,component,indicator,level,slope_per_year,slope_low,slope_high,p_value,n,since,position',
  outlook:
    'as_of,unit,component,age_days,p_fail_30d,p_fail_60d,p_fail_90d,window_early,window_mid,window_late,basis,evidence,position',
  ranking:
    'as_of,rank,unit,depot,component,action,act_by,p_fail_to_next_visit,cost_now,cost_of_waiting,road_call_risk,reason,currency,position',
  'set-aside': 'file,line,field,value,reason',
  backtest: 'as_of,unit,component,p_fail,window_early,window_mid,window_late,failed_within,failed_on,position',
};

const COLUMNS: Column[] = [
  ...columns('text', 'unit'),
  ...columns('instant', 'time'),
  ...columns('date', 'on'),
  ...columns('number', 'value'),
  ...columns('integer', 'n'),
  ...columns('flag', 'unplanned'),
  ...columns('money', 'cost'),
];
const ROWS: Cells[] = [
  ['ü/14 %, "x"\n', 1_773_100_800_123_456, '2026-03-10', 1.5e-7, 3, 1, -2958],
  ['=1+1', 0, null, null, null, 0, null],
];
async function* stream(rows: readonly Cells[]): AsyncGenerator<Cells> {
  yield* rows;
}
async function joined(blocks: AsyncIterable<string>): Promise<string> {
  let all = '';
  for await (const block of blocks) all += block;
  return all;
}

/** A table of which reading breaks off in the middle. */
async function* broken(): AsyncGenerator<Cells> {
  yield ROWS[0]!;
  await Promise.resolve();
  throw new RangeError('table requires rows that can be read, got a break');
}

it('a table that breaks off is an error in Arrow as in text, and nobody waits for its end', async () => {
  const all = async (blocks: AsyncIterable<unknown>) => {
    for await (const _ of blocks) continue;
  };
  await expect(all(csvBlocks(COLUMNS, broken(), { currency: 'USD' }))).rejects.toThrow('got a break');
  await expect(all(arrowBlocks(COLUMNS, broken(), 'USD'))).rejects.toThrow('got a break');
});

it('a slow reader of Arrow makes the program wait: no row is read before what was written has been taken', async () => {
  const [all, batch] = [50_000, 8192];
  let read = 0;
  const counted = async function* (): AsyncGenerator<Cells> {
    while (read++ < all) yield ROWS[1]!;
  };
  const taken: Uint8Array[] = [];
  const readAhead: number[] = [];
  for await (const part of arrowBlocks(COLUMNS, counted(), 'USD')) {
    taken.push(part);
    await new Promise((resolve) => setImmediate(resolve));
    readAhead.push(read - batch * taken.filter(({ length }) => length > batch).length);
  }
  expect(tableFromIPC(Buffer.concat(taken)).numRows).toBe(all);
  expect(Math.max(...readAhead)).toBeLessThanOrEqual(batch);
});

describe('the exports', () => {
  it('have the agreed names and columns, in order', () => {
    expect(EXPORTS.map(({ name }) => name)).toEqual(Object.keys(NAMES));
    for (const table of EXPORTS) expect(table.columns.map(({ name }) => name).join(',')).toBe(NAMES[table.name]);
  });

  it('give each row a cell per column', async () => {
    const store = await assessedStore({
      ...awkwardFleet(),
      workOrders: [workOrder({ unit: 'U1', complaint: 'no crank', correction: 'replaced battery' })],
      setAside: [{ file: 'a.csv', line: 3, field: 'time', value: 'x', reason: 'time requires a time' }],
    });
    const question = { store, asOf: AS_OF, settings: DEFAULT_SETTINGS, decidedUs: NOW_MS * 1000 };
    for (const table of EXPORTS)
      for await (const cells of table.rows(question)) expect(cells, table.name).toHaveLength(table.columns.length);
  });

  it('of cranks end at the as-of instant', async () => {
    const store = await assessedStore();
    const cranks = EXPORTS.find(({ name }) => name === 'cranks')!;
    const earlier = { us: AS_OF.us - 2 * 86_400e6, label: '2026-03-08', on: '2026-03-08' };
    const units: string[] = [];
    const question = { store, asOf: earlier, settings: DEFAULT_SETTINGS, decidedUs: earlier.us };
    for await (const cells of cranks.rows(question)) units.push(String(cells[0]));
    expect(units.filter((unit) => unit === 'U1')).toHaveLength(3);
    expect(units).toEqual(units.toSorted((a, b) => (a < b ? -1 : 1)));
  });
});

describe('CSV', () => {
  it('is RFC 4180 with plain decimals, instants in UTC, money in major units, unknown empty', async () => {
    const text = await joined(csvBlocks(COLUMNS, stream(ROWS), { currency: 'USD' }));
    expect(text).toBe(
      'unit,time,on,value,n,unplanned,cost\r\n' +
        '"ü/14 %, ""x""\n",2026-03-10T00:00:00.123456Z,2026-03-10,0.00000015,3,1,-29.58\r\n' +
        '=1+1,1970-01-01T00:00:00Z,,,,0,\r\n',
    );
    expect(parse(text)).toHaveLength(3);
  });

  it('for a spreadsheet makes text of what would begin a formula, and of nothing else', () => {
    const [text, , , number, , , money] = COLUMNS as [Column, Column, Column, Column, Column, Column, Column];
    const safe = (cell: string) => spreadsheetText(cell, text, 'USD');
    expect(['=1', '+1', '-1', '@a', '\tx', '\rx'].map(safe)).toEqual(["'=1", "'+1", "'-1", "'@a", "'\tx", "'\rx"]);
    expect(['a=1', "'x", '', ' =1'].map(safe)).toEqual(['a=1', "'x", '', ' =1']);
    expect(spreadsheetText(-1.5, number, 'USD')).toBe('-1.5');
    expect(spreadsheetText(-150, money, 'USD')).toBe('-1.50');
    expect(cellText('=1', text, 'USD')).toBe('=1');
  });
});

describe('a number as text', () => {
  it.each([
    [0.1 + 0.2, '0.30000000000000004'],
    [1.5e-7, '0.00000015'],
    [-2.5e-10, '-0.00000000025'],
    [1e21, '1000000000000000000000'],
    [1.25e22, '12500000000000000000000'],
    [-0, '0'],
    [Number.NaN, ''],
    [Infinity, ''],
  ])('%d is %s', (value, text) => expect(plainNumber(value)).toBe(text));

  it('reads back as the same double and never has an exponent', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const text = plainNumber(value);
        expect(text).toMatch(/^-?\d+(\.\d+)?$/);
        expect(Number(text) === value).toBe(true);
      }),
    );
  });
});

describe('the other formats hold the same', () => {
  it('NDJSON', async () => {
    const lines = (await joined(ndjsonBlocks(COLUMNS, stream(ROWS), 'USD'))).trimEnd().split('\n');
    expect(JSON.parse(lines[0]!)).toEqual({
      unit: 'ü/14 %, "x"\n',
      time: '2026-03-10T00:00:00.123456Z',
      on: '2026-03-10',
      value: 1.5e-7,
      n: 3,
      unplanned: 1,
      cost: -29.58,
    });
    expect(JSON.parse(lines[1]!)).toMatchObject({ on: null, value: null, cost: null });
  });

  it('Arrow, over several batches', async () => {
    const many = Array.from({ length: 20_000 }, (_, index): Cells => ROWS[index % 2]!);
    const parts: Uint8Array[] = [];
    for await (const part of arrowBlocks(COLUMNS, stream(many), 'USD')) parts.push(part);
    const table = tableFromIPC(Buffer.concat(parts));
    expect([table.numRows, table.batches.length]).toEqual([20_000, 3]);
    expect(table.schema.fields.map(({ name }) => name)).toEqual(COLUMNS.map(({ name }) => name));
    expect(table.getChild('unit')!.get(19_998)).toBe('ü/14 %, "x"\n');
    expect(table.getChild('time')!.data[0]!.values[0]).toBe(1_773_100_800_123_456n);
    expect(table.getChild('value')!.get(0)).toBe(1.5e-7);
    expect(table.getChild('cost')!.get(0)).toBe(-29.58);
    expect(table.getChild('on')!.get(1)).toBeNull();
  });

  it('Parquet, without rows too', async () => {
    const read = (rows: Cells[]) =>
      withParquet({ columns: COLUMNS, rows: stream(rows), currency: 'USD' }, async (file) => {
        const connection = await (await DuckDBInstance.create(':memory:')).connect();
        const select = `SELECT unit, epoch_us("time") us, "on"::VARCHAR d, value, n, unplanned, cost FROM '${file}'`;
        return (await connection.runAndReadAll(select)).getRowObjects();
      });
    expect(await read(ROWS)).toEqual([
      {
        unit: 'ü/14 %, "x"\n',
        us: 1_773_100_800_123_456n,
        d: '2026-03-10',
        value: 1.5e-7,
        n: 3,
        unplanned: 1,
        cost: -29.58,
      },
      { unit: '=1+1', us: 0n, d: null, value: null, n: null, unplanned: 0, cost: null },
    ]);
    expect(await read([])).toEqual([]);
  });
});
