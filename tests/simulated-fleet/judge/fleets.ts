import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPaths } from '../../../etl/load.ts';
import { asOf } from '../../../etl/model/time.ts';
import { openStore } from '../../../etl/store/open-store.ts';
import { simulateFleet } from '../../../sample-data/simulate.ts';
import { worldOf } from '../world.ts';
import { writeFleet } from '../write-fleet.ts';

/** A fleet to be judged on: simulated and loaded once, then kept in the system's folder for temporary files. */
export type JudgedFleet = { name: string; storePath: string; truth: string; firstDay: number; lastDay: number };
export type FleetChoice = { world: string; seed: number; units: number };

export const LAST_ON = '2026-10-31';
const DAYS = 730;
/** Origins in the second half of the log, a month apart; the last can be followed for a horizon and a month. */
export const ORIGINS = Array.from({ length: 9 }, (_, k) => 365 + 30 * k);
/** The fleet of the command `simulate`, beside the worlds of this folder. */
export const SAMPLE = 'sample';
/** Raise when the simulator makes other rows from the same world. */
const VERSION = 1;

export async function judgedFleet({ world, seed, units }: FleetChoice, fresh = false): Promise<JudgedFleet> {
  const laws = world === SAMPLE ? world : JSON.stringify(worldOf(world));
  const key = createHash('sha256').update(`${VERSION} ${laws}`).digest('hex').slice(0, 8);
  const folder = join(tmpdir(), 'crankledger-outlook-bench', `${world}-${seed}-${units}-${key}`);
  const [data, truth, storePath] = ['data', 'truth', 'store.sqlite'].map((name) => join(folder, name)) as [
    string,
    string,
    string,
  ];
  if (fresh || !existsSync(join(folder, 'done'))) {
    await rm(folder, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    if (world === SAMPLE) await simulateFleet({ units, days: DAYS, seed, out: data, truth, waveformShare: 0 });
    else await writeFleet({ world: worldOf(world), units, days: DAYS, seed, out: data, truth, chanceDays: ORIGINS });
    const store = await openStore(storePath);
    await loadPaths(store, [data], { nowUs: asOf('2026-11-01').us });
    store.close();
    await writeFile(join(folder, 'done'), '');
  }
  const lastDay = Date.parse(LAST_ON) / 86_400_000;
  return { name: `${world} ${seed}`, storePath, truth, firstDay: lastDay - DAYS + 1, lastDay };
}
