import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { parseProfile } from '../../etl/readers/profile/parse-profile.ts';
import { logLine } from '../support/bus-log.ts';
import { withDuckDb } from '../support/duckdb-files.ts';
import { arrowBytes, csvOf, textVectors, type PlainTable } from '../support/plain-tables.ts';
import { zstdArrowStream } from '../support/zstd-arrow-stream.ts';
import { sheetXml, workbookOf } from '../support/spreadsheets.ts';

/** A small sound file from which damaged ones are made. */
export type Sample = {
  name: string;
  fileName: string;
  bytes: Buffer;
  profile: ImportProfile | null;
  /** How often it is taken, against the others. */
  weight: number;
  /** Rows of such a file can be counted from outside: lines below a header, or all lines. */
  rows: 'below_header' | 'all_lines' | null;
  /** Zipped after it was damaged, or before. */
  gzip: boolean;
};

const START_MS = Date.UTC(2026, 2, 1, 6);
const stamp = (seconds: number) => new Date(START_MS + seconds * 1000).toISOString();

/** A start at 100 Hz. */
const WAVEFORM: PlainTable = {
  columns: ['unit', 'time', 'volts', 'amps', 'record'],
  rows: Array.from({ length: 220 }, (_, at) => {
    const s = at / 100;
    const volts = s < 0.6 ? 12.6 : s < 0.65 ? 7.5 : s < 1.6 ? 10 + 0.3 * Math.sin(44 * s) : 13.9;
    return ['T-014', stamp(s), volts.toFixed(3), (s < 0.6 ? 5 : 180).toFixed(1), 'r1'];
  }),
};

const TABLES: Record<string, PlainTable> = {
  waveform: WAVEFORM,
  cranks: {
    columns: ['unit', 'time', 'rest_volts', 'dip_volts', 'crank_seconds', 'crank_rpm', 'outcome', 'position'],
    rows: Array.from({ length: 30 }, (_, at) => [
      `T-${at % 4}`,
      stamp(at * 3600),
      '12.55',
      '8.1',
      '0.9',
      '210',
      at % 5 === 0 ? 'failed' : 'started',
      '',
    ]),
  },
  units: {
    columns: ['unit', 'depot', 'class', 'system_volts', 'battery_count', 'battery_cca', 'cylinders', 'fuel', 'vin'],
    rows: Array.from({ length: 12 }, (_, at) => [`T-${at}`, 'north', 'truck', '24', '2', '1800', '6', 'diesel', '']),
  },
  work_orders: {
    columns: ['work_order', 'unit', 'opened', 'closed', 'complaint', 'correction', 'parts_cost', 'road_call'],
    rows: Array.from({ length: 20 }, (_, at) => [
      `W${at}`,
      `T-${at % 4}`,
      '2026-01-05',
      '2026-01-06',
      'no start, "clicks" only',
      'replaced starter',
      '183.05',
      '1',
    ]),
  },
  components: {
    columns: ['unit', 'component', 'fitted', 'part', 'cost'],
    rows: Array.from({ length: 10 }, (_, at) => [`T-${at}`, 'battery', '2025-05-01', 'G31', '220.00']),
  },
  bench_tests: {
    columns: ['unit', 'time', 'test', 'value', 'unit_of_measure', 'note'],
    rows: Array.from({ length: 12 }, (_, at) => [`T-${at}`, stamp(at), 'open_circuit_voltage', '12.6', 'V', '']),
  },
  codes: {
    columns: ['unit', 'time', 'code', 'spn', 'fmi'],
    rows: Array.from({ length: 14 }, (_, at) => [`T-${at}`, stamp(at), at % 2 ? 'P0562' : '', '168', '4']),
  },
  bays: { columns: ['depot', 'bay', 'weekday', 'hours'], rows: [['north', '1', '1', '8']] },
  shop_visits: { columns: ['unit', 'date', 'depot', 'reason'], rows: [['T-1', '2026-04-01', 'north', 'service']] },
};

const BUS_LOG = Array.from({ length: 120 }, (_, at) => {
  const frames = [
    '0CF00400#FFFFFF2814FFF0FF',
    '18FEF700#FFFFFFFFF801FFFF',
    '18FEF500#FFFFFF8022FFFFFF',
    '1CECFF00#200A0002FFCAFE00',
    '1CEBFF00#0104FFA80004018B',
    '1CEBFF00#02060502FFFFFFFF',
    '7E8#0441423138AAAAAA',
    '7E8#100A430405620512',
    '7E8#2106150563000000',
    '18FEE000#C72C010010963500',
  ];
  return logLine(at / 20, frames[at % frames.length]!);
}).join('');

const SCREEN_LOG = BUS_LOG.replaceAll(/can0 (\w+)#(\w+)/g, (_, id: string, hex: string) => {
  const pairs = hex.match(/../g)!;
  return ` can0  ${id}   [${pairs.length}]  ${pairs.join(' ')}   '........'`;
});

/** What an oscilloscope writes, and the profile for it. */
const SCOPE = `Measurement;cranking\nStart Time;01.03.2026 07:00:00,5\nUnit;T-014\n\nTime;Channel A\n(s);(mV)\n\n${WAVEFORM.rows
  .map(
    (row, at) => `${(at / 100).toFixed(3).replace('.', ',')};${(Number(row[2]) * 1000).toFixed(1).replace('.', ',')}`,
  )
  .join('\n')}\n`;
const SCOPE_PROFILE = parseProfile(
  JSON.stringify({
    name: 'scope',
    delimiter: ';',
    decimalMark: ',',
    header: { words: ['Time', 'Channel A'], rowsAfter: 2 },
    columns: { Time: 'time', 'Channel A': { field: 'volts', unitOfMeasure: 'mV' } },
    time: {
      format: 'seconds_from_start',
      zone: 'Europe/Berlin',
      startFrom: { preamble: ['Start Time'], format: 'dd.MM.yyyy HH:mm:ss.S' },
    },
    unitFrom: { preamble: 'Unit' },
  }),
  'scope.json',
);

const LOGS = ['waveform', 'cranks'];

const plain = { profile: null, gzip: false, rows: null };

/** Every shape and kind that can be read, made anew; `folder` is for what only writes files. */
export async function validSamples(folder: string): Promise<Sample[]> {
  const csv = Object.entries(TABLES).map(([name, table]): Sample => {
    const weight = name === 'waveform' || name === 'cranks' ? 14 : 4;
    return { ...plain, name, fileName: `${name}.csv`, bytes: Buffer.from(csvOf(table)), weight, rows: 'below_header' };
  });
  const text = (name: string, fileName: string, content: string, weight: number): Sample => ({
    ...plain,
    name,
    fileName,
    bytes: Buffer.from(content, 'latin1'),
    weight,
    rows: 'all_lines',
  });
  const scope = { ...plain, name: 'scope', fileName: 'scope.csv', bytes: Buffer.from(SCOPE), profile: SCOPE_PROFILE };
  return [
    ...csv,
    text('candump', 'T-014.log', BUS_LOG, 12),
    text('candump screen', 'T-015.log', SCREEN_LOG, 6),
    { ...scope, weight: 10 },
    { ...scope, name: 'scope UTF-16', bytes: Buffer.from(`\uFEFF${SCOPE}`, 'utf16le'), weight: 4 },
    ...csv.slice(0, 2).map((each): Sample => ({ ...each, name: `${each.name} gzip`, gzip: true, weight: 5 })),
    ...Object.entries(TABLES).flatMap(([name, table]) => otherShapes(name, table)),
    { ...plain, name: 'packed arrow', fileName: 'packed.arrow', bytes: zstdArrowStream(), weight: 3 },
    ...(await columnStores(folder)),
  ];
}

function otherShapes(name: string, table: PlainTable): Sample[] {
  const lines = table.rows.map((row) =>
    JSON.stringify(Object.fromEntries(table.columns.map((column, at) => [column, row[at]]))),
  );
  const shape = (kind: string, bytes: Uint8Array, weight: number): Sample => ({
    ...plain,
    name: `${name} ${kind}`,
    fileName: `${name}.${kind}`,
    bytes: Buffer.from(bytes),
    weight,
  });
  const short = { ...table, rows: table.rows.slice(0, 40) };
  return [
    { ...shape('ndjson', Buffer.from(`${lines.join('\n')}\n`), 1.5), rows: 'all_lines' },
    shape('arrow', arrowBytes(textVectors(short), 'file', 16), 0.6),
    shape('arrows', arrowBytes(textVectors(short), 'stream', 16), 0.6),
    // Logs are not kept as spreadsheets.
    ...(LOGS.includes(name)
      ? []
      : [shape('xlsx', workbookOf({ Sheet1: sheetXml([short.columns, ...short.rows]) }), 0.5)]),
  ];
}

/** Parquet, written by DuckDB, with columns of their own types. */
async function columnStores(folder: string): Promise<Sample[]> {
  const made: Sample[] = [];
  for (const name of LOGS) {
    const [from, to] = [join(folder, `${name}.csv`), join(folder, `${name}.parquet`)];
    await writeFile(from, csvOf(TABLES[name]!));
    await withDuckDb(`COPY (SELECT * FROM read_csv('${from}')) TO '${to}' (FORMAT parquet)`);
    made.push({ ...plain, name: `${name} parquet`, fileName: `${name}.parquet`, bytes: await readFile(to), weight: 1 });
    await rm(from);
    await rm(to);
  }
  return made;
}

/** The sample as a load would meet it, undamaged. */
export function asFile({ bytes, gzip }: Sample): Buffer {
  return gzip ? gzipSync(bytes) : bytes;
}
