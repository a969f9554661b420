import { ofPosition, troublesOf, type AssessedEngine, type EngineCase } from './assess-engine.ts';
import type { EngineState } from './assess-engines.ts';
import { fitFleet, fitSeasons, sinceDays, type FleetParameters, type Seasons } from './assess-fleet.ts';
import type { Workers } from './assess-work.ts';
import { knownFleet, workersOf, type AssessOptions, type KnownFleet } from './known-fleet.ts';
import { engineKey } from './lives/build-lives.ts';
import { groupBy } from './model/group-by.ts';
import type { Outlook } from './model/outlook.ts';
import { dayNumber, type AsOf } from './model/time.ts';
import type { Unit } from './model/unit.ts';
import { FORECAST_COMPONENTS } from './model/words.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import { landmarksOf } from './outlook/landmarks.ts';
import { refusedOutlook } from './outlook/outlook-of.ts';
import type { Assessment, Store } from './store/store.ts';
import type { Look } from './trends/recent-reading.ts';

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
  const cases = casesOf(inService, troubles, asOf);
  for (const state of states) state.series = {};
  const assessed = await workers.run('outlook', cases, { shared: { fleet, asOf } });
  const refused = await unregistered(store, units, { asOf, recorded });
  return { asOf, lives, fleet, ...together(assessed, refused) };
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
    ofPosition(troublesOfUnit.get(unit.unit) ?? [], position).map(({ openedDay }) => openedDay);
  const fitted = fitFleet(states, seasons, { asOfDay: dayNumber(asOf.on), landmarks, troubleDays });
  for (const { series } of states)
    for (const summary of Object.values(series)) Object.assign(summary, { readings: [], newestOn: [] });
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

/** What each engine's outlook is made from: as they are done, their indicators are let go. */
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

function byKey(a: Outlook, b: Outlook): number {
  const text = (x: string, y: string) => Number(x > y) - Number(x < y);
  return text(a.unit, b.unit) || text(a.position, b.position) || text(a.component, b.component);
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
