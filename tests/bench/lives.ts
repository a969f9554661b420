import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse';
import { assess } from '../../etl/assess.ts';
import { loadPaths } from '../../etl/load.ts';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import { asOf, dayNumber, dayOf } from '../../etl/model/time.ts';
import { FORECAST_COMPONENTS } from '../../etl/model/words.ts';
import { openStore } from '../../etl/store/open-store.ts';
import { simulateFleet } from '../../sample-data/simulate.ts';

/**
 * Service lives against what truly happened, on simulated fleets: recall and precision of failures per component,
 * dates within three days. Recall counts the failures that the records show: recorded ones whose order is legible.
 * A removal of a sound part (the wrong one was fitted) and a planned one are no failures: each taken for one costs
 * precision. An unrecorded change that was found counts neither way for recall, and for precision as what it was.
 */
const FLEET = { units: 300, days: 730 };
/** The last two have winters in which sound batteries were taken out by the dozen. */
const SEEDS = [1, 2, 3, 8, 9];
const DATES_AGREE_DAYS = 3;

type TrueLife = { unit: string; position: string; component: string; removed: string; end: string; recorded: string };
type TrueOrder = { work_order: string; unit: string; repair: string; legible: string };

export async function bench(): Promise<{ name: string; figures: Record<string, number | string> }> {
  const figures: Record<string, number | string> = {};
  for (const seed of SEEDS) {
    const folder = await mkdtemp(join(tmpdir(), 'bench-lives-'));
    try {
      Object.assign(figures, await measureFleet(folder, seed));
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }
  return { name: 'lives', figures };
}

async function measureFleet(folder: string, seed: number): Promise<Record<string, number | string>> {
  const [data, truth] = [join(folder, 'fleet'), join(folder, 'truth')];
  const { firstDay } = await simulateFleet({ ...FLEET, seed, out: data, truth, waveformShare: 0 });
  const store = await openStore(join(folder, 'fleet.sqlite'));
  await loadPaths(store, [data], { nowUs: asOf('2026-11-01').us });
  const { lives } = await assess(store, asOf('2026-10-31'));
  const opened = new Map(
    (await store.workOrders(Infinity)).map((order) => [order.workOrder, dayNumber(dayOf(order.openedUs))]),
  );
  store.close();
  const trueLives = await rowsOf<TrueLife>(join(truth, 'true-lives.csv'));
  const orders = await rowsOf<TrueOrder>(join(truth, 'true-work-orders.csv'));
  const legible = orders
    .filter((order) => order.legible === '1')
    .map((order) => ({ ...order, day: opened.get(order.work_order) ?? Number.NaN }));
  return compareLives(lives, { trueLives, legible, firstDay, name: `seed ${seed}` });
}

async function rowsOf<Row>(file: string): Promise<Row[]> {
  const rows: Row[] = [];
  for await (const row of createReadStream(file).pipe(parse({ columns: true }))) rows.push(row as Row);
  return rows;
}

type LegibleOrder = TrueOrder & { day: number };
type Truth = {
  trueLives: readonly TrueLife[];
  legible: readonly LegibleOrder[];
  firstDay: string;
  name: string;
};

export function compareLives(
  lives: readonly ServiceLife[],
  { trueLives, legible, firstDay, name }: Truth,
): Record<string, number | string> {
  const figures: Record<string, number | string> = {};
  for (const component of FORECAST_COMPONENTS) {
    const own = trueLives.filter((life) => life.component === component && life.removed >= firstDay);
    const found = lives.filter((life) => life.component === component && life.end === 'failure');
    const failures = own.filter(({ end }) => end === 'failure');
    const shown = failures.filter((life) => life.recorded === '1' && legible.some((order) => records(order, life)));
    const hits = shown.filter((life) => found.some((each) => sameEnd(each, life)));
    const right = found.filter((each) => failures.some((life) => sameEnd(each, life)));
    figures[`${name} ${component} recall`] = `${hits.length}/${shown.length} = ${share(hits, shown)}`;
    figures[`${name} ${component} precision`] = `${right.length}/${found.length} = ${share(right, found)}`;
    figures[`${name} ${component} wrong`] = found
      .filter((each) => !right.includes(each))
      .map((each) => own.find((life) => sameEnd(each, life))?.end ?? 'nothing')
      .reduce((words, end) => `${words} ${end}`, '')
      .trim();
  }
  return figures;
}

function share(part: readonly unknown[], whole: readonly unknown[]): string {
  return (part.length / whole.length).toFixed(3);
}

function sameEnd(found: ServiceLife, life: TrueLife): boolean {
  const same = found.unit === life.unit && found.position === life.position && found.component === life.component;
  return same && Math.abs(dayNumber(found.removedOn ?? '') - dayNumber(life.removed)) <= DATES_AGREE_DAYS;
}

function records(order: LegibleOrder, life: TrueLife): boolean {
  const same = order.unit === life.unit && order.repair === `${life.component}_replaced`;
  return same && Math.abs(order.day - dayNumber(life.removed)) <= DATES_AGREE_DAYS;
}
