import { createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { once } from 'node:events';
import { openBytes } from '../../etl/readers/bytes/byte-stream.ts';
import { crankCsv } from '../../etl/readers/kinds/crank-csv.ts';
import type { ReaderSink, TableReader } from '../../etl/readers/reader.ts';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';

const SAMPLES = 4_700_000;
const CRANKS = 1_000_000;

/** Reading alone, from the file to batches that nobody keeps: MB/s of waveform text, event rows a second. */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-scan-'));
  try {
    const waveform = await measured(waveformCsv, await written(join(folder, 'waveform.csv'), waveformRows()));
    const mixed = await measured(waveformCsv, await written(join(folder, 'mixed.csv'), mixedRows()));
    const cranks = await measured(crankCsv, await written(join(folder, 'cranks.csv'), crankRows()));
    return {
      name: 'scan',
      figures: {
        waveformMB: Math.round(waveform.bytes / 1e6),
        waveformMBPerSecond: Math.round(waveform.bytes / 1e6 / waveform.seconds),
        manyUnitsInTurnMBPerSecond: Math.round(mixed.bytes / 1e6 / mixed.seconds),
        crankRowsPerSecond: Math.round(cranks.rows / cranks.seconds),
        rssMiB: Math.round(process.memoryUsage().rss / 2 ** 20),
      },
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

type Measured = { bytes: number; seconds: number; rows: number };

/** The better of two runs: the first also warms the compiler and the page cache. */
async function measured(reader: TableReader, path: string): Promise<Measured> {
  const { size } = await stat(path);
  let best: Measured = { bytes: size, seconds: Infinity, rows: 0 };
  for (let run = 0; run < 2; run += 1) {
    const from = performance.now();
    const { taken } = await reader.read(openBytes(path), nowhere);
    const seconds = (performance.now() - from) / 1000;
    if (seconds < best.seconds) best = { bytes: size, seconds, rows: taken };
  }
  return best;
}

const nowhere: ReaderSink = {
  units: async () => undefined,
  fittedParts: async () => undefined,
  workOrders: async () => undefined,
  benchResults: async () => undefined,
  troubleCodes: async () => undefined,
  bays: async () => undefined,
  shopVisits: async () => undefined,
  cranks: async () => undefined,
  samples: async () => undefined,
  busSignals: async () => undefined,
  setAside: async () => undefined,
  progress: () => undefined,
};

async function written(path: string, rows: Iterable<string>): Promise<string> {
  const file = createWriteStream(path);
  for (const row of rows) if (!file.write(row)) await once(file, 'drain');
  file.end();
  await once(file, 'finish');
  return path;
}

function* waveformRows(): Generator<string> {
  yield 'unit,time,volts,rpm\n';
  yield* blocks(
    SAMPLES,
    (row) => `UNIT-${1000 + Math.floor(row / 50_000)},${instant(row * 5)},${volts(row)},${row % 900}\n`,
  );
}

function* mixedRows(): Generator<string> {
  yield 'unit,time,volts\n';
  yield* blocks(SAMPLES / 4, (row) => `UNIT-${1000 + (row % 50)},${instant(Math.floor(row / 50) * 5)},${volts(row)}\n`);
}

function* crankRows(): Generator<string> {
  yield 'unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,crank_rpm,temp_c,outcome\n';
  yield* blocks(
    CRANKS,
    (row) => `UNIT-${1000 + (row % 500)},${instant(row * 4000)},12.54,${volts(row)},10.312,0.84,212,-3.5,started\n`,
  );
}

/** Rows joined by the thousand: a write a row would measure the stream. */
function* blocks(count: number, row: (index: number) => string): Generator<string> {
  for (let from = 0; from < count; from += 1000)
    yield Array.from({ length: Math.min(1000, count - from) }, (_, index) => row(from + index)).join('');
}

const BEGIN_MS = Date.UTC(2024, 0, 1);
function instant(ms: number): string {
  return new Date(BEGIN_MS + ms).toISOString();
}

function volts(row: number): string {
  return (9 + ((row * 37) % 4000) / 1000).toFixed(3);
}
