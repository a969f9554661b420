import { createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPaths } from '../../etl/load.ts';
import { openStore } from '../../etl/store/open-store.ts';

const MEGABYTES = Number(process.env['BENCH_MB'] ?? 500);
const UNITS = 40;
const RATE_HZ = 1000;
/** A triggered record: rest, crank, charging. */
const RECORD_SECONDS = 12;
const REST_SECONDS = 2;
const CRANK_SECONDS = 1;
const BEGIN_MS = Date.UTC(2024, 0, 1);
const BETWEEN_MS = 600_000;

/**
 * Waveform text from a file to stored, finished cranks with their kept waveforms: MB/s and the largest resident memory
 * of the process, which is the load's own as the file is written in small pieces. `BENCH_MB` sets the file's size.
 */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-waveform-load-'));
  const [csv, path] = [join(folder, 'log.csv'), join(folder, 'store.sqlite')];
  try {
    const records = await writeLog(csv);
    const { size } = await stat(csv);
    const store = await openStore(path);
    const from = performance.now();
    const report = await loadPaths(store, [csv], { nowUs: Date.UTC(2026, 0, 1) * 1000, jobs: 2 });
    const seconds = (performance.now() - from) / 1000;
    store.close();
    const cranks = report.files[0]!.cranks;
    if (cranks !== records || report.setAside !== 0)
      throw new Error(`bench requires ${records} cranks found, got ${cranks}, and ${report.setAside} rows set aside`);
    return {
      name: 'waveform-load',
      figures: {
        megabytes: Math.round(size / 1e6),
        megabytesPerSecond: Math.round(size / 1e6 / seconds),
        cranks,
        storeMegabytes: Math.round((await stat(path)).size / 1e6),
        rssMiB: Math.round(process.resourceUsage().maxRSS / 1024),
      },
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Records of the units in turn, until the file is as large as asked for. Returns how many. */
async function writeLog(path: string): Promise<number> {
  const file = createWriteStream(path);
  const shapes = [8.1, 7.6, 8.6, 7.9].map(recordVolts);
  file.write('unit,time,volts\n');
  let records = 0;
  for (let bytes = 0; bytes < MEGABYTES * 1e6; records += 1) {
    const text = recordText(records, shapes[records % shapes.length]!);
    bytes += text.length;
    if (!file.write(text)) await once(file, 'drain');
  }
  file.end();
  await once(file, 'finish');
  return records;
}

function recordText(record: number, volts: readonly string[]): string {
  const fromMs = BEGIN_MS + record * BETWEEN_MS;
  const unit = `UNIT-${1000 + (record % UNITS)}`;
  return volts.map((value, index) => `${unit},${new Date(fromMs + index).toISOString()},${value}\n`).join('');
}

/** Volts of one record, in words: rest, inrush to the dip, rolling with ripple, then charging. */
function recordVolts(dip: number): string[] {
  return Array.from({ length: RECORD_SECONDS * RATE_HZ }, (_, index) => {
    const seconds = index / RATE_HZ - REST_SECONDS;
    const noise = 0.006 * Math.sin(index * 1.7) + 0.005 * Math.sin(index * 0.31);
    return (voltsAt(seconds, dip) + noise).toFixed(3);
  });
}

function voltsAt(seconds: number, dip: number): number {
  if (seconds < 0) return 12.6;
  if (seconds >= CRANK_SECONDS) return 14.1 - 1.2 * Math.exp(-(seconds - CRANK_SECONDS) / 0.8);
  const rolling = 10.4 + 0.25 * Math.sin(2 * Math.PI * 7 * seconds);
  return rolling - (10.4 - dip) * Math.exp(-seconds / 0.06);
}
