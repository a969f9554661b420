import { emptyTable, MEASURED_COLUMNS, type CrankBatch, type MeasuredColumn } from '../../model/crank.ts';
import type { SetAside } from '../../model/set-aside.ts';
import { OUTCOMES, SOURCES } from '../../model/words.ts';
import { columnsAside } from '../csv/columns-aside.ts';
import { LIMITS, type Limit } from './column-limits.ts';
import type { ReaderSink, ReadOptions, ReadReport, TableReader } from '../reader.ts';
import type { ColumnPlan } from '../csv/column-plan.ts';
import { RowScanner } from '../csv/row-scanner.ts';
import { BATCH_ROWS, scanCsv, type ScanCount, type ScanPlan } from '../csv/scanned-csv.ts';
import { scanTable } from './scanned-table.ts';

const REQUIRED = ['unit', 'time', 'rest_volts', 'dip_volts', 'crank_seconds'] as const;
const MEASURES: Record<string, { limit: Limit; name: MeasuredColumn }> = {
  rest_volts: { limit: LIMITS.crankVolts, name: 'restVolts' },
  dip_volts: { limit: LIMITS.crankVolts, name: 'dipVolts' },
  crank_volts: { limit: LIMITS.crankVolts, name: 'crankVolts' },
  crank_seconds: { limit: LIMITS.seconds, name: 'crankSeconds' },
  crank_rpm: { limit: LIMITS.rpm, name: 'loggedRpm' },
  charge_volts: { limit: LIMITS.crankVolts, name: 'chargeVolts' },
  amps_peak: { limit: LIMITS.ampsPeak, name: 'ampsPeak' },
  temp_c: { limit: LIMITS.tempC, name: 'tempC' },
};
const KNOWN = ['unit', 'time', 'position', 'outcome', ...Object.keys(MEASURES)];

/** One row a crank, as a gateway sums it up. */
export const crankCsv: TableReader = {
  name: 'crank-csv',
  kind: 'cranks',
  version: 3,
  needed: REQUIRED,
  read: async (bytes, sink, options) =>
    withBatch(async (batch) => scanCsv(bytes, sink, cranksInto(batch, sink, options))),
  readTable: async (table, sink, options) =>
    withBatch(async (batch) => scanTable(table, sink, cranksInto(batch, sink, options))),
};

function cranksInto(batch: Filling, sink: ReaderSink, options: ReadOptions = {}): ScanPlan {
  return {
    scanner(columns) {
      const plans = columns.map((column) => planOf(column, batch));
      const scanner = new RowScanner(plans, batch.columns.line, options.nowUs);
      batch.names = scanner.dictionary.names;
      return scanner;
    },
    async deliver(rows) {
      batch.count = rows;
      const impossible = withoutImpossible(batch);
      await sink.cranks(batch);
      return impossible;
    },
  };
}

/** Takes out the rows that cannot be used. */
function withoutImpossible(batch: Filling): SetAside[] {
  const { columns, unit, position } = batch;
  const impossible: SetAside[] = [];
  let kept = 0;
  for (let row = 0; row < batch.count; row++) {
    const dip = columns.dipVolts[row]!;
    const reason = whyNot(dip, columns.restVolts[row]!, columns.crankVolts[row]!);
    if (reason !== null) {
      const value = Number.isNaN(dip) ? '' : String(dip);
      impossible.push({ line: columns.line[row]!, field: 'dip_volts', value, reason });
      continue;
    }
    if (kept < row) {
      for (const name of MEASURED_COLUMNS) columns[name][kept] = columns[name][row]!;
      unit[kept] = unit[row]!;
      if (position !== null) position[kept] = position[row]!;
    }
    kept++;
  }
  batch.count = kept;
  return impossible;
}

/** A voltage that rises under the starter's load is a meter's other probe or a mixed-up column. A slow gateway misses the dip. */
function whyNot(dip: number, rest: number, cranking: number): string | null {
  if (dip > rest) return 'dip_volts requires a value not over rest_volts';
  return Number.isNaN(dip) && Number.isNaN(cranking) ? 'dip_volts requires a number where crank_volts is empty' : null;
}

function reportOf({ taken, setAside, columns }: ScanCount): ReadReport {
  return { kind: 'cranks', taken, setAside, unknownColumns: columnsAside(columns, KNOWN), notes: [] };
}

/** Batches of files that have been read, for the next: fresh memory for each of many small files costs more than they do. */
const spare: Filling[] = [];

async function withBatch(read: (batch: Filling) => Promise<ScanCount>): Promise<ReadReport> {
  const batch = emptied(spare.pop() ?? newBatch());
  const count = await read(batch);
  spare.push(batch);
  return reportOf(count);
}

type Filling = { -readonly [Field in keyof CrankBatch]: CrankBatch[Field] };

function newBatch(): Filling {
  const { columns } = emptyTable(MEASURED_COLUMNS, BATCH_ROWS);
  return { count: 0, names: [], unit: new Int32Array(BATCH_ROWS), position: null, columns };
}

function emptied(batch: Filling): Filling {
  const { columns } = batch;
  for (const name of MEASURED_COLUMNS) columns[name].fill(Number.NaN);
  columns.source.fill(SOURCES.indexOf('cranks'));
  columns.quality.fill(0);
  batch.position = null;
  return batch;
}

function planOf(column: string, batch: Filling): ColumnPlan | null {
  switch (column) {
    case 'unit':
      return { field: 'unit', required: true, kind: 'text', into: batch.unit, emptyAllowed: false };
    case 'time':
      return { field: 'time', required: true, kind: 'instant', into: batch.columns.timeUs };
    case 'position': {
      const into = (batch.position ??= new Int32Array(BATCH_ROWS));
      return { field: 'position', required: false, kind: 'text', into, emptyAllowed: true };
    }
    case 'outcome':
      return { field: 'outcome', required: false, kind: 'word', into: batch.columns.outcome, words: OUTCOMES };
    default: {
      const measure = MEASURES[column];
      if (measure === undefined) return null;
      const required = column !== 'dip_volts' && (REQUIRED as readonly string[]).includes(column);
      return { field: column, required, kind: 'number', into: batch.columns[measure.name], limit: measure.limit };
    }
  }
}
