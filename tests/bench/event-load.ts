import { createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPaths } from '../../etl/load.ts';
import { openStore } from '../../etl/store/open-store.ts';

const UNITS = 500;
const CRANKS = 1_000_000;
const BEGIN_MS = Date.UTC(2024, 0, 1);

/**
 * Event rows from a CSV file into a new store, finished: rows a second from the first byte to the last block. Once in
 * the order in which a gateway of the whole fleet writes (units in turn), once as an export by unit.
 */
export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-event-load-'));
  try {
    const inTurn = await loaded(folder, 'in-turn', (row) => row % UNITS);
    const byUnit = await loaded(folder, 'by-unit', (row) => Math.floor((row * UNITS) / CRANKS));
    return {
      name: 'event-load',
      figures: {
        rows: CRANKS,
        units: UNITS,
        unitsInTurnRowsPerSecond: Math.round(CRANKS / inTurn.seconds),
        byUnitRowsPerSecond: Math.round(CRANKS / byUnit.seconds),
        storeBytesPerRow: Math.round(byUnit.storeBytes / CRANKS),
        rssMiB: Math.round(process.resourceUsage().maxRSS / 1024),
      },
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function loaded(folder: string, name: string, unitOf: (row: number) => number) {
  const [csv, path] = [join(folder, `${name}.csv`), join(folder, `${name}.sqlite`)];
  await writeCranks(csv, unitOf);
  const store = await openStore(path);
  try {
    const from = performance.now();
    const { taken, setAside } = await loadPaths(store, [csv], { nowUs: Date.UTC(2026, 0, 1) * 1000, jobs: 2 });
    const seconds = (performance.now() - from) / 1000;
    if (taken !== CRANKS || setAside !== 0)
      throw new Error(`bench requires ${CRANKS} rows taken, got ${taken}, and ${setAside} set aside (${csv})`);
    return { seconds, storeBytes: (await stat(path)).size };
  } finally {
    store.close();
  }
}

/** Rows joined by the thousand: a write a row would measure the stream. */
async function writeCranks(path: string, unitOf: (row: number) => number): Promise<void> {
  const file = createWriteStream(path);
  file.write('unit,time,rest_volts,dip_volts,crank_volts,crank_seconds,crank_rpm,temp_c,outcome\n');
  for (let from = 0; from < CRANKS; from += 1000) {
    const rows = Array.from({ length: 1000 }, (_, index) => crankLine(from + index, unitOf(from + index)));
    if (!file.write(rows.join(''))) await once(file, 'drain');
  }
  file.end();
  await once(file, 'finish');
}

function crankLine(row: number, unit: number): string {
  const time = new Date(BEGIN_MS + row * 60_000).toISOString();
  const volts = (6 + ((row * 37) % 4000) / 1000).toFixed(3);
  return `UNIT-${1000 + unit},${time},12.54,${volts},10.312,0.84,212,-3.5,started\n`;
}
