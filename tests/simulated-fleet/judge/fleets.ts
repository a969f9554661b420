import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
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
  const loaded = await once(`${made.folder}-store`, fresh, async (folder) => {
    const store = await openStore(join(folder, STORE));
    await loadPaths(store, [made.data], { nowUs: asOf('2026-11-01').us });
    store.close();
  });
  const lastDay = dayNumber(LAST_ON);
  const truth = readTruth(made.truth);
  const storePath = join(loaded, STORE);
  const fleet = { name: `${world} ${seed}`, storePath, truth, firstDay: lastDay - DAYS + 1, lastDay };
  if (world !== SAMPLE) return fleet;
  const others: FleetFolders[] = [];
  for (const other of LEARNT_SEEDS) others.push(await madeFleet({ ...choice, seed: other }));
  return { ...fleet, truth: { ...truth, chance: learnChances(others, lastDay)(made) } };
}

const STORE = 'store.sqlite';

async function madeFleet(
  { world, seed, units }: FleetChoice,
  fresh = false,
): Promise<FleetFolders & { folder: string }> {
  const laws = world === SAMPLE ? world : JSON.stringify(worldOf(world));
  const key = createHash('sha256').update(`${VERSION} ${laws}`).digest('hex').slice(0, 8);
  const name = `${world}-${seed}-${units}-${key}`;
  const folder = await once(join(tmpdir(), 'crankledger-outlook-judge', name), fresh, async (into) => {
    const [out, truth] = [join(into, 'data'), join(into, 'truth')];
    if (world === SAMPLE) await simulateFleet({ units, days: DAYS, seed, out, truth, waveformShare: 0 });
    else await writeFleet({ world: worldOf(world), units, days: DAYS, seed, out, truth, chanceDays: ORIGINS });
  });
  return { folder, data: join(folder, 'data'), truth: join(folder, 'truth') };
}

/** A folder filled once: whole or not there, also where several runs fill it at a time or one is killed. */
async function once(folder: string, fresh: boolean, fill: (folder: string) => Promise<void>): Promise<string> {
  if (fresh) await rm(folder, { recursive: true, force: true });
  if (existsSync(folder)) return folder;
  const under = `${folder}.${process.pid}`;
  await mkdir(under, { recursive: true });
  await fill(under);
  try {
    await rename(under, folder);
  } catch (error) {
    if (!existsSync(folder)) throw error;
    await rm(under, { recursive: true });
  }
  return folder;
}
