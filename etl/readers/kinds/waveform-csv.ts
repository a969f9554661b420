import { VOLTS_ALONE, type SampleBatch } from '../../model/samples.ts';
import { columnsAside } from '../csv/columns-aside.ts';
import { LIMITS, type Limit } from './column-limits.ts';
import type { ReaderSink, ReadOptions, ReadReport, TableReader } from '../reader.ts';
import type { ColumnPlan } from '../csv/column-plan.ts';
import { RowScanner } from '../csv/row-scanner.ts';
import { BATCH_ROWS, scanCsv, type ScanCount, type ScanPlan } from '../csv/scanned-csv.ts';
import { scanTable } from './scanned-table.ts';

const REQUIRED = ['unit', 'time', 'volts'] as const;
const SERIES = {
  volts: { limit: LIMITS.volts, name: 'volts' },
  amps: { limit: LIMITS.amps, name: 'amps' },
  temp_c: { limit: LIMITS.tempC, name: 'tempC' },
  coolant_c: { limit: LIMITS.coolantC, name: 'coolantC' },
  rpm: { limit: LIMITS.rpm, name: 'rpm' },
  start_request: { limit: LIMITS.flag, name: 'startRequest' },
  control_volts: { limit: LIMITS.volts, name: 'controlVolts' },
} as const satisfies Record<string, { limit: Limit; name: keyof SampleBatch }>;
type SeriesColumn = keyof typeof SERIES;

function isSeries(column: string): column is SeriesColumn {
  return Object.hasOwn(SERIES, column);
}

/** One row a sample: `unit, time, volts` and what else the logger had. */
export const waveformCsv: TableReader = {
  name: 'waveform-csv',
  kind: 'waveform',
  version: 3,
  needed: REQUIRED,
  read: async (bytes, sink, options) =>
    withBatch(async (batch) => scanCsv(bytes, sink, samplesInto(batch, sink, options))),
  readTable: async (table, sink, options) =>
    withBatch(async (batch) => scanTable(table, sink, samplesInto(batch, sink, options))),
};

/** Columns of files that have been read, for the next: fresh memory for each of many small files costs more than they do. */
const spare: Float64Array[] = [];
const spareNames: Int32Array[] = [];
const series = () => spare.pop() ?? new Float64Array(BATCH_ROWS);
const names = () => spareNames.pop() ?? new Int32Array(BATCH_ROWS);

async function withBatch(read: (batch: Filling) => Promise<ScanCount>): Promise<ReadReport> {
  const batch = emptyBatch();
  const count = await read(batch);
  for (const column of Object.values(batch)) {
    if (column instanceof Float64Array) spare.push(column);
    else if (column instanceof Int32Array) spareNames.push(column);
  }
  return reportOf(count);
}

function samplesInto(batch: Filling, sink: ReaderSink, options: ReadOptions = {}): ScanPlan {
  return {
    scanner(columns) {
      const plans = columns.map((column) => planOf(column, batch));
      const scanner = new RowScanner(plans, batch.line, options.nowUs);
      batch.names = scanner.dictionary.names;
      return scanner;
    },
    async deliver(rows) {
      batch.count = rows;
      await sink.samples(batch);
      return [];
    },
  };
}

type Filling = { -readonly [Field in keyof SampleBatch]: SampleBatch[Field] };

function emptyBatch(): Filling {
  return {
    count: 0,
    names: [],
    unit: names(),
    position: null,
    record: null,
    timeUs: series(),
    volts: series(),
    ...VOLTS_ALONE,
    line: series(),
  };
}

/** The plan of one column; a column that the file has gets its array here. */
function planOf(column: string, batch: Filling): ColumnPlan | null {
  switch (column) {
    case 'unit':
      return { field: 'unit', required: true, kind: 'text', into: batch.unit, emptyAllowed: false };
    case 'time':
      return { field: 'time', required: true, kind: 'instant', into: batch.timeUs };
    case 'position':
    case 'record': {
      const into = (batch[column] ??= names());
      return { field: column, required: false, kind: 'text', into, emptyAllowed: true };
    }
    default: {
      if (!isSeries(column)) return null;
      const { limit, name } = SERIES[column];
      const into = (batch[name] ??= series());
      return { field: column, required: column === 'volts', kind: 'number', into, limit };
    }
  }
}

function reportOf(count: ScanCount): ReadReport {
  const known = ['unit', 'time', 'position', 'record', ...Object.keys(SERIES)];
  return {
    kind: 'waveform',
    taken: count.taken,
    setAside: count.setAside,
    unknownColumns: columnsAside(count.columns, known),
    notes: [],
  };
}
