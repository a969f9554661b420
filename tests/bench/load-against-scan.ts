import { DuckDBInstance, type DuckDBConnection } from '@duckdb/node-api';
import { mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeLog, type LogPlan } from '../support/invented-logs.ts';
import { timedLoad } from '../support/timed-load.ts';

const MEGABYTES = Number(process.env['BENCH_MB'] ?? 500);
const ROUNDS = 3;
const JOBS = 2;
const SMALL_FILES = 400;
const SMALL_MEGABYTES = 0.3;

const TRIGGERED: LogPlan = {
  megabytes: MEGABYTES,
  units: 40,
  shape: { restSeconds: 2, seconds: 12 },
  betweenSeconds: 600,
  order: 'in_turn',
};
const CONTINUOUS: LogPlan = {
  ...TRIGGERED,
  units: 4,
  shape: { restSeconds: 60, seconds: 300 },
  betweenSeconds: 0.001,
  order: 'one_by_one',
};
const SMALL: LogPlan = { ...TRIGGERED, megabytes: SMALL_MEGABYTES, units: 1, shape: { restSeconds: 1, seconds: 6 } };

/**
 * From a voltage log to stored cranks, beside a bare aggregate of the same file by DuckDB with the columns given and
 * all cores, in turn in one run: figures of this machine pass, ratios stay. Medians of three rounds.
 */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-load-against-scan-'));
  const duckdb = await (await DuckDBInstance.create(':memory:')).connect();
  try {
    const triggered = await compared(duckdb, folder, TRIGGERED);
    const continuous = await compared(duckdb, folder, CONTINUOUS);
    const small = await smallFiles(folder);
    const parquet = await parquetFile(duckdb, folder);
    return {
      name: 'load-against-scan',
      figures: {
        megabytes: Math.round(triggered.megabytes),
        scanMBPerSecond: triggered.scanRate,
        triggeredMBPerSecond: triggered.loadRate,
        triggeredOverScan: triggered.ratio,
        scanOfAllColumnsMBPerSecond: triggered.wideScanRate,
        triggeredOverScanOfAllColumns: triggered.wideRatio,
        continuousScanMBPerSecond: continuous.scanRate,
        continuousMBPerSecond: continuous.loadRate,
        continuousOverScan: continuous.ratio,
        continuousOverScanOfAllColumns: continuous.wideRatio,
        smallFilesMBPerSecond: small.rate,
        smallFilesOverScanRate: round(small.rate / triggered.scanRate),
        parquetGroupSeconds: parquet.groupSeconds,
        parquetLoadSeconds: parquet.loadSeconds,
        parquetOverGroup: parquet.ratio,
        rssMiB: Math.max(triggered.rssMiB, continuous.rssMiB, small.rssMiB, parquet.rssMiB),
      },
    };
  } finally {
    duckdb.closeSync();
    await rm(folder, { recursive: true, force: true });
  }
}

/** What the scan takes of each row: the volts alone, or all four columns, as a load has to. */
const VOLTS = 'avg(volts)';
const ALL_COLUMNS = 'max(unit), max(time), avg(volts), avg(amps)';

/** Seconds of our load over seconds of DuckDB's scans, round by round. */
async function compared(duckdb: DuckDBConnection, folder: string, plan: LogPlan) {
  const csv = join(folder, 'log.csv');
  const { cranks } = await writeLog(csv, plan);
  const megabytes = (await stat(csv)).size / 1e6;
  await scanSeconds(duckdb, csv, VOLTS); // the first reads from the disk
  const rounds = [];
  for (let round = 0; round < ROUNDS; round++) {
    const [scan, wide] = [await scanSeconds(duckdb, csv, VOLTS), await scanSeconds(duckdb, csv, ALL_COLUMNS)];
    const { seconds, rssMiB } = await freshLoad(folder, [csv], cranks);
    rounds.push({ scan, wide, load: seconds, ratio: seconds / scan, wideRatio: seconds / wide, rssMiB });
  }
  await rm(csv);
  return {
    megabytes,
    scanRate: Math.round(megabytes / median(rounds.map(({ scan }) => scan))),
    loadRate: Math.round(megabytes / median(rounds.map(({ load }) => load))),
    wideScanRate: Math.round(megabytes / median(rounds.map(({ wide }) => wide))),
    ratio: round(median(rounds.map(({ ratio }) => ratio))),
    wideRatio: round(median(rounds.map(({ wideRatio }) => wideRatio))),
    rssMiB: Math.max(...rounds.map(({ rssMiB }) => rssMiB)),
  };
}

async function scanSeconds(duckdb: DuckDBConnection, csv: string, aggregates: string): Promise<number> {
  const from = performance.now();
  await duckdb.runAndReadAll(
    `select count(*), ${aggregates} from read_csv('${csv}', header = true, auto_detect = false,
     columns = {'unit': 'VARCHAR', 'time': 'TIMESTAMP', 'volts': 'DOUBLE', 'amps': 'DOUBLE'})`,
  );
  return (performance.now() - from) / 1000;
}

async function smallFiles(folder: string) {
  const logs = join(folder, 'logs');
  await mkdir(logs);
  let bytes = 0;
  for (let file = 0; file < SMALL_FILES; file++) {
    const path = join(logs, `${String(file).padStart(3, '0')}.csv`);
    // Each of a unit of its own, so that none is taken for another.
    await writeLog(path, { ...SMALL, firstUnit: file });
    bytes += (await stat(path)).size;
  }
  const rounds = [];
  for (let round = 0; round < ROUNDS; round++) rounds.push(await freshLoad(folder, [logs], SMALL_FILES));
  const seconds = median(rounds.map((each) => each.seconds));
  return { rate: Math.round(bytes / 1e6 / seconds), rssMiB: Math.max(...rounds.map(({ rssMiB }) => rssMiB)) };
}

/** The triggered log as Parquet, one `record` a capture, beside DuckDB that groups it by record and streams the lists. */
async function parquetFile(duckdb: DuckDBConnection, folder: string) {
  const [csv, parquet] = [join(folder, 'log.csv'), join(folder, 'log.parquet')];
  const { rows, cranks } = await writeLog(csv, TRIGGERED);
  await duckdb.run(
    `copy (select unit, time::timestamptz as time, volts, amps, (row_number() over () - 1) // ${rows / cranks} as record
     from read_csv('${csv}', header = true)) to '${parquet}' (format parquet, compression zstd)`,
  );
  await rm(csv);
  const rounds = [];
  for (let round = 0; round < ROUNDS; round++) {
    const group = await groupSeconds(duckdb, parquet);
    const load = await freshLoad(folder, [parquet], cranks);
    rounds.push({ group, load: load.seconds, ratio: load.seconds / group, rssMiB: load.rssMiB });
  }
  return {
    groupSeconds: round(median(rounds.map(({ group }) => group))),
    loadSeconds: round(median(rounds.map(({ load }) => load))),
    ratio: round(median(rounds.map(({ ratio }) => ratio))),
    rssMiB: Math.max(...rounds.map(({ rssMiB }) => rssMiB)),
  };
}

async function groupSeconds(duckdb: DuckDBConnection, parquet: string): Promise<number> {
  const from = performance.now();
  const lists = ['epoch_us(time)', 'volts', 'amps'].map((each) => `list(${each} order by time)`);
  const result = await duckdb.stream(
    `select unit, record, ${lists.join(', ')} from read_parquet('${parquet}') group by unit, record`,
  );
  for (let chunk = await result.fetchChunk(); chunk !== null && chunk.rowCount > 0; chunk = await result.fetchChunk())
    for (let column = 2; column < chunk.columnCount; column++) chunk.getColumnVector(column);
  return (performance.now() - from) / 1000;
}

async function freshLoad(folder: string, paths: string[], cranks: number) {
  const store = join(folder, 'store.sqlite');
  for (const suffix of ['', '-wal', '-shm']) await rm(store + suffix, { force: true });
  const load = timedLoad({ paths, store, jobs: JOBS });
  if (load.cranks !== cranks || load.setAside !== 0)
    throw new Error(`bench requires ${cranks} cranks, got ${load.cranks}, and ${load.setAside} rows set aside`);
  return load;
}

function median(values: number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
