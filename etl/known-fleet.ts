import { completeStates, loggedEngines, type DailyReader, type EngineState } from './assess-engines.ts';
import type { FleetParameters, FleetWatch } from './assess-fleet.ts';
import { doingOf, workHere, type Workers } from './assess-work.ts';
import { buildLives, engineKey, recordsBegin } from './lives/build-lives.ts';
import type { ReadingRules } from './lives/read-known-orders.ts';
import { placedAsLogged, unitsOfOneLog } from './lives/unplaced-logs.ts';
import type { ServiceLife } from './model/service-life.ts';
import type { AsOf } from './model/time.ts';
import type { Unit } from './model/unit.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import type { Store } from './store/store.ts';
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

export function workersOf(store: Store, { workers, daily }: AssessOptions): Workers {
  return workers ?? workHere(doingOf(store, daily));
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
  const fitted = (await store.fittedParts(asOf.us)).filter((part) => part.fittedOn <= asOf.on);
  const { systemCodes, timeZone } = await store.settings();
  const rules = { systemCodes, timeZone, corrections: await store.readingCorrections() };
  const read = await readRecords(store, asOf, { workers, rules });
  const { onProgress } = options;
  const logged = await readLogged(store, { asOf, timeZone, units, orders: read.orders, workers, onProgress });
  const ofOneLog = unitsOfOneLog(logged);
  const [orders, parts] = [placedAsLogged(read.orders, ofOneLog), placedAsLogged(fitted, ofOneLog)];
  const places = placedAsLogged([...read.places, ...named(parts)], ofOneLog);
  const engines = [...logged.map(({ unit, position }) => ({ unit: unit.unit, position })), ...places];
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
async function readRecords(
  store: Store,
  asOf: AsOf,
  { workers, rules }: { workers: Workers; rules: ReadingRules },
): Promise<ReadRecords> {
  const records = await store.workOrders(asOf.us);
  const parts = Array.from({ length: Math.ceil(records.length / RECORDS) }, (_, at) =>
    records.slice(at * RECORDS, (at + 1) * RECORDS),
  );
  const read = await workers.run('records', parts, { shared: rules });
  return { orders: read.flat(), places: named(records) };
}

type Reading = {
  asOf: AsOf;
  timeZone: string;
  units: readonly Unit[];
  orders: readonly ReadWorkOrder[];
  workers: Workers;
  onProgress: AssessOptions['onProgress'];
};

/** Daily medians of every engine of a registered unit: of their cranks only the medians are kept. */
async function readLogged(store: Store, { workers, onProgress, timeZone, ...known }: Reading): Promise<EngineState[]> {
  const registered = new Set(known.units.map(({ unit }) => unit));
  const engines = (await store.engines()).filter(({ unit }) => registered.has(unit));
  const readings = await workers.run('read', [...engines], {
    shared: { untilUs: known.asOf.us, timeZone },
    onDone: (done) => onProgress?.(done, engines.length),
  });
  return loggedEngines(engines, readings, known);
}

type Placed = { unit: string; position: string };

/** Positions that a record gives in so many words; what is only read out of its text makes no engine. */
function named(rows: readonly Placed[]): Placed[] {
  return rows.filter(({ position }) => position !== '').map(({ unit, position }) => ({ unit, position }));
}
