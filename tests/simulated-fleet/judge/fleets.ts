import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadPaths } from '../../../etl/load.ts';
import { asOf, dayNumber } from '../../../etl/model/time.ts';
import { openStore } from '../../../etl/store/open-store.ts';
import { simulateFleet } from '../../../sample-data/simulate.ts';
import { worldOf } from '../world.ts';
import { writeFleet } from '../write-fleet.ts';
import { learnChances, type FleetFolders } from './learnt-chance.ts';
import { readTruth, type Truth } from './truth.ts';

/** A fleet to be judged on: simulated and loaded once, then kept in the system's folder for temporary files. */
export type JudgedFleet = { name: string; storePath: string; truth: Truth; firstDay: number; lastDay: number };
export type FleetChoice = { world: string; seed: number; units: number };

export const LAST_ON = '2026-10-31';
const DAYS = 730;
/** Origins in the second half of the log, a month apart; the last can be followed for a horizon and a month. */
export const ORIGINS = Array.from({ length: 9 }, (_, k) => 365 + 30 * k);
/** The fleet of the command `simulate`, beside the worlds of this folder. */
export const SAMPLE = 'sample';
/** Raise when the simulator makes other rows from the same world. */
const VERSION = 3;

/** Seeds of the fleets from which the chance of a true state is learnt, where the simulator gives none. */
const LEARNT_SEEDS = [101, 102, 103];

export async function judgedFleet(choice: FleetChoice, fresh = false): Promise<JudgedFleet> {
  const { world, seed } = choice;
  const made = await madeFleet(choice, fresh);
  const storePath = join(made.folder, 'store.sqlite');
  const loaded = join(made.folder, 'loaded');
  if (!existsSync(loaded)) {
    await rm(storePath, { force: true });
    const store = await openStore(storePath);
    await loadPaths(store, [made.data], { nowUs: asOf('2026-11-01').us });
    store.close();
    await writeFile(loaded, '');
  }
  const lastDay = dayNumber(LAST_ON);
  const truth = readTruth(made.truth);
  const fleet = { name: `${world} ${seed}`, storePath, truth, firstDay: lastDay - DAYS + 1, lastDay };
  if (world !== SAMPLE) return fleet;
  const others = await Promise.all(LEARNT_SEEDS.map(async (other) => madeFleet({ ...choice, seed: other })));
  return { ...fleet, truth: { ...truth, chance: learnChances(others, lastDay)(made) } };
}

async function madeFleet(
  { world, seed, units }: FleetChoice,
  fresh = false,
): Promise<FleetFolders & { folder: string }> {
  const laws = world === SAMPLE ? world : JSON.stringify(worldOf(world));
  const key = createHash('sha256').update(`${VERSION} ${laws}`).digest('hex').slice(0, 8);
  const folder = join(tmpdir(), 'crankledger-outlook-bench', `${world}-${seed}-${units}-${key}`);
  const [data, truth] = [join(folder, 'data'), join(folder, 'truth')];
  const made = join(folder, 'made');
  if (fresh || !existsSync(made)) {
    await rm(folder, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    if (world === SAMPLE) await simulateFleet({ units, days: DAYS, seed, out: data, truth, waveformShare: 0 });
    else await writeFleet({ world: worldOf(world), units, days: DAYS, seed, out: data, truth, chanceDays: ORIGINS });
    await writeFile(made, '');
  }
  return { folder, data, truth };
}
