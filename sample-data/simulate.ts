import { mkdir, readdir } from 'node:fs/promises';
import { relative, resolve, sep } from 'node:path';
import { dateFromDay, dayFromDate } from './calendar.ts';
import { createFleetWriter } from './fleet-writer.ts';
import { depotClimate, regionAnomaly } from './climate.ts';
import type { Climate } from './climate.ts';
import { OLDEST_UNIT_DAYS, unitPlan } from './fleet.ts';
import type { LogSpan } from './fleet.ts';
import { createRandom } from './random.ts';
import { DEPOTS } from './region.ts';
import { AFTER_DAYS, simulateUnit } from './simulate-unit.ts';

/**
 * Writes an invented fleet: register, parts, event rows, waveforms and work orders, from a seed. Unit after unit, so
 * memory does not grow with the fleet. The same options give the same rows on every machine.
 */
export type SimulateOptions = {
  units: number;
  days: number;
  seed: number;
  /** A new or empty folder. */
  out: string;
  /** Where to write what truly happened; never inside `out`. Absent: nowhere. */
  truth?: string | undefined;
  /** Last day of the log; default DEFAULT_LAST_DAY. */
  lastDay?: string | undefined;
  /** Share of all cranks that is recorded as a waveform; default DEFAULT_WAVEFORM_SHARE. */
  waveformShare?: number | undefined;
  /** Units done, of how many. */
  onProgress?: ((done: number, total: number) => void) | undefined;
};

export const DEFAULT_LAST_DAY = '2026-10-31';
export const DEFAULT_WAVEFORM_SHARE = 0.001;

export type SimulationReport = {
  firstDay: string;
  lastDay: string;
  units: number;
  engines: number;
  cranks: number;
  waveforms: number;
  workOrders: number;
  /** Failures within the log, as they truly were. */
  batteryFailures: number;
  starterFailures: number;
  files: { name: string; rows: number }[];
};

export async function simulateFleet(options: SimulateOptions): Promise<SimulationReport> {
  const span = spanOf(options);
  await checkFolders(options);
  const climates = climatesOf(options.seed, span);
  const writer = await createFleetWriter({ ...options, span, truth: options.truth ?? null });
  for (let index = 0; index < options.units; index += 1) {
    const plan = unitPlan(options.seed, index, span);
    const climate = climates.get(plan.depot.name)!;
    const waveformShare = options.waveformShare ?? DEFAULT_WAVEFORM_SHARE;
    await writer.take(
      simulateUnit(plan, { seed: options.seed, climate, span, waveformShare, withTruth: options.truth !== undefined }),
    );
    options.onProgress?.(index + 1, options.units);
  }
  const written = await writer.close();
  return { firstDay: dateFromDay(span.firstDay), lastDay: dateFromDay(span.lastDay), units: options.units, ...written };
}

const MOST_DAYS = 3653;

function spanOf(options: SimulateOptions): LogSpan {
  requireWhole('units', options.units, [1, 100_000]);
  requireWhole('days', options.days, [30, MOST_DAYS]);
  requireWhole('seed', options.seed, [0, 2 ** 31 - 1]);
  const share = options.waveformShare ?? DEFAULT_WAVEFORM_SHARE;
  if (!(share >= 0 && share <= 1))
    throw new RangeError(`waveform share requires a number from 0 to 1, got ${share} (simulate)`);
  const lastDay = dayFromDate(options.lastDay ?? DEFAULT_LAST_DAY);
  return { firstDay: lastDay - options.days + 1, lastDay };
}

function requireWhole(what: string, value: number, [low, high]: readonly [number, number]): void {
  if (Number.isInteger(value) && value >= low && value <= high) return;
  throw new RangeError(`${what} requires a whole number from ${low} to ${high}, got ${value} (simulate)`);
}

/** Truth beside the data would be loaded with it; rows beside those of an older run would be mixed with them. */
async function checkFolders(options: SimulateOptions): Promise<void> {
  const folders = options.truth === undefined ? [options.out] : [options.out, options.truth];
  if (options.truth !== undefined && inside(options.truth, options.out))
    throw new RangeError(`truth folder requires a place outside the fleet's folder, got ${options.truth} (simulate)`);
  for (const folder of folders) {
    await mkdir(folder, { recursive: true });
    const found = await readdir(folder);
    if (found.length > 0)
      throw new RangeError(`folder requires to be new or empty, got ${found.length} entries (${folder})`);
  }
}

function inside(path: string, folder: string): boolean {
  const way = relative(resolve(folder), resolve(path));
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`));
}

function climatesOf(seed: number, span: LogSpan): Map<string, Climate> {
  const firstDay = span.firstDay - OLDEST_UNIT_DAYS;
  const days = span.lastDay + AFTER_DAYS + 1 - firstDay;
  const anomaly = regionAnomaly(createRandom(seed, 'region'), firstDay, days);
  return new Map(
    DEPOTS.map((depot) => [
      depot.name,
      depotClimate(depot, anomaly, { firstDay, random: createRandom(seed, 'depot', depot.name) }),
    ]),
  );
}
