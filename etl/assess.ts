import { ofPosition, troublesOf, type AssessedEngine, type EngineCase } from './assess-engine.ts';
import { completeStates, loggedEngines, type DailyReader, type EngineState } from './assess-engines.ts';
import {
  fitFleet,
  fitSeasons,
  sinceDays,
  type FleetParameters,
  type FleetWatch,
  type Seasons,
} from './assess-fleet.ts';
import { doingOf, workHere, type Workers } from './assess-work.ts';
import { buildLives, engineKey, recordsBegin } from './lives/build-lives.ts';
import { groupBy } from './model/group-by.ts';
import type { Outlook } from './model/outlook.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber, US_PER_DAY, type AsOf } from './model/time.ts';
import type { Unit } from './model/unit.ts';
import { FORECAST_COMPONENTS } from './model/words.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import { landmarksOf } from './outlook/landmarks.ts';
import { refusedOutlook } from './outlook/outlook-of.ts';
import type { Assessment, Store } from './store/store.ts';
import type { Look } from './trends/recent-reading.ts';
import { stepsOf, voltageWitness } from './voltage-witness.ts';

export type AssessOptions = {
  onProgress?: ((done: number, total: number) => void) | undefined;
  /** Where daily medians come from; read out of the store if left out. Must give what that would give. */
  daily?: DailyReader;
  /** Who does what one engine needs; this thread if left out. */
  workers?: Workers | undefined;
  /** What an earlier run fitted on the fleet: nothing is fitted anew. For a store that shows a part of the fleet. */
  kept?: FleetParameters | undefined;
};

/**
 * Trends, lives and outlooks of the fleet as of a date, from what was known by then and nothing later. Reads only; the
 * caller saves. Time and memory grow with the number of engine-days.
 */
export async function assess(
  store: Store,
  asOf: AsOf,
  options: AssessOptions = {},
): Promise<Assessment & { fleet: FleetParameters }> {
  const workers = workersOf(store, options);
  const known = await knownFleet(store, asOf, { ...options, workers });
  const { units, troubles, recorded, lives, states } = known;
  const fleet = options.kept ?? (await fittedFleet(known, { asOf, workers }));
  if (options.kept !== undefined) await summarise(states, { seasons: fleet, workers });
  const inService = states.filter(({ unit }) => unit.outOfServiceOn === null || unit.outOfServiceOn > asOf.on);
  const assessed = await workers.run('outlook', casesOf(inService, troubles, asOf), { shared: { fleet, asOf } });
  const refused = await unregistered(store, units, { asOf, recorded });
  return { asOf, lives, fleet, ...together(assessed, refused) };
}

function workersOf(store: Store, { workers, daily }: AssessOptions): Workers {
  return workers ?? workHere(doingOf(store, daily));
}

type Work = { asOf: AsOf; workers: Workers };

/** Fits what is shared. */
async function fittedFleet(known: KnownFleet, { asOf, workers }: Work): Promise<FleetParameters> {
  const { states, troubles, watch } = known;
  const seasons = fitSeasons(states);
  const landmarks = landmarksOf(states);
  const looks = (state: EngineState) =>
    landmarks.get(state)!.map(({ life, day }) => ({ fromDay: dayNumber(life.watchedFromOn), onDay: day }));
  await summarise(states, { seasons, workers, looks });
  const troublesOfUnit = groupBy(troubles, ({ unit }) => unit);
  const troubleDays = ({ unit, position }: EngineState) =>
    ofPosition(troublesOfUnit.get(unit.unit) ?? [], position).map(({ openedUs }) => Math.floor(openedUs / US_PER_DAY));
  const fitted = fitFleet(states, seasons, { asOfDay: dayNumber(asOf.on), landmarks, troubleDays });
  for (const { series } of states) for (const summary of Object.values(series)) summary.readings = [];
  return { ...fitted, watch };
}

type Summarising = { seasons: Seasons; workers: Workers; looks?: (state: EngineState) => Look[] };

/** Fills in the indicators. The daily medians are used up by it: a large fleet's would fill the memory. */
async function summarise(
  states: readonly EngineState[],
  { seasons, workers, looks = () => [] }: Summarising,
): Promise<void> {
  const { corrections, temperatures } = seasons;
  const logged = states.filter(({ daily }) => daily !== null);
  const items = logged.map((state) => ({
    class: state.class,
    daily: state.daily!,
    since: sinceDays(state.lives),
    looks: looks(state),
  }));
  for (const state of logged) state.daily = null;
  const series = await workers.run('summarise', items, { shared: { corrections, temperatures } });
  logged.forEach((state, index) => (state.series = series[index]!));
}

function casesOf(states: readonly EngineState[], troubles: readonly ReadWorkOrder[], asOf: AsOf): EngineCase[] {
  const troublesOfUnit = groupBy(troubles, ({ unit }) => unit);
  return states.map(({ unit, position, class: name, series, lives, silent }) => {
    const own = troublesOf(troublesOfUnit.get(unit.unit) ?? [], position, asOf);
    return { unit, position, class: name, series, lives, silent, troubles: own };
  });
}

function together(
  assessed: readonly AssessedEngine[],
  refused: readonly Outlook[],
): Pick<Assessment, 'trends' | 'outlooks'> {
  return {
    trends: assessed.flatMap(({ trends }) => trends),
    outlooks: [...assessed.flatMap(({ outlooks }) => outlooks), ...refused].sort(byKey),
  };
}

/** What was known of the fleet by a date: its register, what its records say, the lives they make, its engines. */
export type KnownFleet = {
  units: Unit[];
  /** Jump starts and no-starts. */
  troubles: ReadWorkOrder[];
  /** Units that records name. */
  recorded: Set<string>;
  lives: ServiceLife[];
  states: EngineState[];
  watch: FleetWatch;
};

export async function knownFleet(store: Store, asOf: AsOf, options: AssessOptions = {}): Promise<KnownFleet> {
  const workers = workersOf(store, options);
  const units = (await store.units(asOf.us)).filter((unit) => unit.inServiceOn === null || unit.inServiceOn <= asOf.on);
  const parts = (await store.fittedParts(asOf.us)).filter((part) => part.fittedOn <= asOf.on);
  const { orders, places } = await readRecords(store, asOf, workers);
  const logged = await readLogged(store, { asOf, units, orders, workers, onProgress: options.onProgress });
  const engines = [...logged.map(({ unit, position }) => ({ unit: unit.unit, position })), ...places, ...named(parts)];
  const firstSeenOn = new Map(
    logged.flatMap(({ unit, position, firstSeenOn: on }) =>
      on === null ? [] : [[engineKey(unit.unit, position), on] as const],
    ),
  );
  const watch = options.kept?.watch ?? watchOf(orders, logged);
  const voltage = voltageWitness(logged, watch.steps);
  const recordsFromDay = watch.recordsFromDay ?? Infinity;
  const known = { units, engines, parts, orders, firstSeenOn, recordsFromDay };
  const lives = buildLives({ ...known, ...voltage, asOfOn: asOf.on });
  const troubles = orders.filter(({ event }) => event === 'jump_started' || event === 'no_start');
  const recorded = new Set(orders.map(({ unit }) => unit));
  return { units, troubles, recorded, lives, watch, states: completeStates(logged, { units, lives, engines }) };
}

function watchOf(orders: readonly ReadWorkOrder[], logged: readonly EngineState[]): FleetWatch {
  const from = recordsBegin(orders);
  return { recordsFromDay: Number.isFinite(from) ? from : null, steps: stepsOf(logged) };
}

/** Records that one thread reads at a time. */
const RECORDS = 1_000;

type ReadRecords = { orders: ReadWorkOrder[]; places: Placed[] };

/** How records are read, and the positions that they give. Their texts, the most of them, are let go. */
async function readRecords(store: Store, asOf: AsOf, workers: Workers): Promise<ReadRecords> {
  const records = await store.workOrders(asOf.us);
  const { systemCodes } = await store.settings();
  const shared = { systemCodes, corrections: await store.readingCorrections() };
  const parts = Array.from({ length: Math.ceil(records.length / RECORDS) }, (_, at) =>
    records.slice(at * RECORDS, (at + 1) * RECORDS),
  );
  const read = await workers.run('records', parts, { shared });
  return { orders: read.flat(), places: named(records) };
}

type Reading = {
  asOf: AsOf;
  units: readonly Unit[];
  orders: readonly ReadWorkOrder[];
  workers: Workers;
  onProgress: AssessOptions['onProgress'];
};

/** Daily medians of every engine of a registered unit: of their cranks only the medians are kept. */
async function readLogged(store: Store, { workers, onProgress, ...known }: Reading): Promise<EngineState[]> {
  const registered = new Set(known.units.map(({ unit }) => unit));
  const engines = (await store.engines()).filter(({ unit }) => registered.has(unit));
  const readings = await workers.run('read', [...engines], {
    shared: { untilUs: known.asOf.us },
    onDone: (done) => onProgress?.(done, engines.length),
  });
  return loggedEngines(engines, readings, known);
}

function byKey(a: Outlook, b: Outlook): number {
  const text = (x: string, y: string) => Number(x > y) - Number(x < y);
  return text(a.unit, b.unit) || text(a.position, b.position) || text(a.component, b.component);
}

type Placed = { unit: string; position: string };

/** Positions that a record gives in so many words; what is only read out of its text makes no engine. */
function named(rows: readonly Placed[]): Placed[] {
  return rows.filter(({ position }) => position !== '').map(({ unit, position }) => ({ unit, position }));
}

type Named = { asOf: AsOf; recorded: ReadonlySet<string> };

/** Units that rows name and no register knows: said, with the remedy, never guessed at. */
async function unregistered(store: Store, units: readonly Unit[], { asOf, recorded }: Named): Promise<Outlook[]> {
  const known = new Set([...units, ...(await store.units())].map(({ unit }) => unit));
  const seen = new Map<string, { unit: string; position: string }>();
  for (const engine of await store.engines()) {
    if (known.has(engine.unit)) continue;
    const table = await store.finished(engine);
    if (table !== null && table.columns.timeUs[0]! <= asOf.us)
      seen.set(engineKey(engine.unit, engine.position), engine);
  }
  for (const unit of recorded) if (!known.has(unit)) seen.set(engineKey(unit, ''), { unit, position: '' });
  const why = 'the unit is not in the register: load a units file that names it';
  return [...seen.values()].flatMap(({ unit, position }) =>
    FORECAST_COMPONENTS.map((component) => refusedOutlook({ unit, position, component }, why)),
  );
}
