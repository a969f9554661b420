import { buildLives, engineKey, enginePositions } from './lives/build-lives.ts';
import { readWorkOrder } from './lives/read-work-order.ts';
import type { Outlook } from './model/outlook.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber, dayOf, US_PER_DAY, type AsOf } from './model/time.ts';
import type { Trend, TrendStanding } from './model/trend.ts';
import type { Engine, Unit } from './model/unit.ts';
import { FORECAST_COMPONENTS, type Indicator } from './model/words.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import {
  conditionPath,
  usualLevels,
  type ConditionPath,
  type EngineSeries,
  type UsualLevels,
} from './outlook/condition-index.ts';
import { fitLifeModels, type LifeModels } from './outlook/life-model.ts';
import { outlookOf, refusedOutlook } from './outlook/outlook-of.ts';
import { fitWearModel, type PathOfLife, type WearModels } from './outlook/wear-model.ts';
import type { Assessment, Store } from './store/store.ts';
import { alignStrata } from './trends/align-strata.ts';
import {
  correctedSeries,
  type CorrectedSeries,
  dayTemperatures,
  fitCorrections,
  type CorrectionContext,
  type Corrections,
  type DayTemperatures,
} from './trends/correction.ts';
import { dailyMedians, type DailyMedians } from './trends/daily-medians.ts';
import { COMPONENT_INDICATORS } from './trends/indicators.ts';
import { shrunk, slopePrior, type SlopePrior } from './trends/shrink-slopes.ts';
import { driftOf, type Drift } from './trends/trend-of.ts';
import { INDICATORS } from './model/words.ts';

/** What was fitted on the whole fleet: enough to show or assess one unit without the others. JSON-able. */
export type FleetParameters = {
  corrections: Corrections;
  temperatures: DayTemperatures;
  usual: UsualLevels;
  /** By class, then indicator. */
  slopes: Record<string, Partial<Record<Indicator, SlopePrior>>>;
  lives: LifeModels;
  wear: WearModels;
};

export type AssessOptions = { onProgress?: (done: number, total: number) => void };

type EngineState = {
  unit: Unit;
  position: string;
  class: string;
  daily: DailyMedians | null;
  firstSeenOn: string | null;
  lastDay: number | null;
  series: EngineSeries['series'];
  lives: ServiceLife[];
  silent: TrendStanding | null;
};

/** A logger that has said nothing for so long is silent, or the unit is parked. Convention of this program. */
const SILENT_DAYS = 30;
const TROUBLE_DAYS = 90;

/**
 * Trends, lives and outlooks of the fleet as of a date, from what was known by then and nothing later. Reads only; the
 * caller saves. Time and memory grow with the number of engine-days.
 */
export async function assess(store: Store, asOf: AsOf, options: AssessOptions = {}): Promise<Assessment> {
  const settings = await store.settings();
  const units = (await store.units(asOf.us)).filter((unit) => unit.inServiceOn === null || unit.inServiceOn <= asOf.on);
  const records = await store.workOrders(asOf.us);
  const orders = records.flatMap((order) => readWorkOrder(order, settings.systemCodes));
  const parts = (await store.fittedParts(asOf.us)).filter((part) => part.fittedOn <= asOf.on);
  const states = await readEngines(store, { asOf, units, orders, onProgress: options.onProgress });
  const engines = [...states.map(({ unit, position }) => ({ unit: unit.unit, position })), ...named(records, parts)];
  const firstSeenOn = new Map(
    states.flatMap(({ unit, position, firstSeenOn: on }) =>
      on === null ? [] : [[engineKey(unit.unit, position), on] as const],
    ),
  );
  const lives = buildLives({ units, engines, parts, orders, firstSeenOn, asOfOn: asOf.on });
  const whole = completeStates(states, { units, lives, engines });
  const fleet = fitFleet(whole);
  const inService = whole.filter(({ unit }) => unit.outOfServiceOn === null || unit.outOfServiceOn > asOf.on);
  const assessed = inService.map((state) => assessEngine(state, fleet, { asOf, orders: ordersOf(orders, state) }));
  const refused = await unregistered(store, units, { asOf, orders });
  return {
    asOf,
    lives,
    trends: assessed.flatMap(({ trends }) => trends),
    outlooks: [...assessed.flatMap(({ outlooks }) => outlooks), ...refused].sort(byKey),
    fleet,
  };
}

function byKey(a: Outlook, b: Outlook): number {
  const text = (x: string, y: string) => Number(x > y) - Number(x < y);
  return text(a.unit, b.unit) || text(a.position, b.position) || text(a.component, b.component);
}

type Placed = { unit: string; position: string };

/** Positions that a record gives in so many words; what is only read out of its text makes no engine. */
function named(records: readonly Placed[], parts: readonly Placed[]): Placed[] {
  return [...records, ...parts]
    .filter(({ position }) => position !== '')
    .map(({ unit, position }) => ({ unit, position }));
}

type ReadContext = {
  asOf: AsOf;
  units: readonly Unit[];
  orders: readonly ReadWorkOrder[];
  onProgress: AssessOptions['onProgress'];
};

/** Daily medians of every engine of a registered unit: one block at a time, only the medians are kept. */
async function readEngines(store: Store, { asOf, units, orders, onProgress }: ReadContext): Promise<EngineState[]> {
  const unitOf = new Map(units.map((unit) => [unit.unit, unit]));
  const lastOrderDay = new Map<string, number>();
  for (const order of orders) {
    const day = Math.floor(order.openedUs / US_PER_DAY);
    lastOrderDay.set(order.unit, Math.max(day, lastOrderDay.get(order.unit) ?? -Infinity));
  }
  const engines = await store.engines();
  const states: EngineState[] = [];
  for (const [index, engine] of engines.entries()) {
    const unit = unitOf.get(engine.unit);
    if (unit !== undefined) {
      const state = await readEngine(store, engine, {
        unit,
        asOf,
        lastOrderDay: lastOrderDay.get(engine.unit) ?? null,
      });
      if (state !== null) states.push(state);
    }
    onProgress?.(index + 1, engines.length);
  }
  return states;
}

type EngineContext = { unit: Unit; asOf: AsOf; lastOrderDay: number | null };

async function readEngine(
  store: Store,
  engine: Engine,
  { unit, asOf, lastOrderDay }: EngineContext,
): Promise<EngineState | null> {
  const table = await store.finished(engine);
  if (table === null || !(table.columns.timeUs[0]! <= asOf.us)) return null;
  const daily = dailyMedians(table, asOf.us);
  const lastDay = daily.day.at(-1) ?? null;
  return {
    ...blankState(unit, engine.position),
    daily,
    firstSeenOn: dayOf(table.columns.timeUs[0]!),
    lastDay,
    silent: silence(lastDay, dayNumber(asOf.on), lastOrderDay),
  };
}

/** No cranks for a month: a work order since then says that the unit is at work and its logger silent; else it is parked. */
function silence(lastDay: number | null, asOfDay: number, lastOrderDay: number | null): TrendStanding | null {
  if (lastDay === null || asOfDay - lastDay <= SILENT_DAYS) return null;
  return lastOrderDay !== null && lastOrderDay > lastDay + 1 ? 'logger_silent' : 'parked';
}

function blankState(unit: Unit, position: string): EngineState {
  const nothing = { daily: null, firstSeenOn: null, lastDay: null, silent: null };
  return { unit, position, class: unit.class, series: {}, lives: [], ...nothing };
}

type Completing = {
  units: readonly Unit[];
  lives: readonly ServiceLife[];
  engines: readonly { unit: string; position: string }[];
};

/** One state per engine of every registered unit, logged or not, with its lives. */
function completeStates(logged: readonly EngineState[], { units, lives, engines }: Completing): EngineState[] {
  const byEngine = new Map(logged.map((state) => [engineKey(state.unit.unit, state.position), state]));
  const livesOf = groupBy(lives, (life) => engineKey(life.unit, life.position));
  const positionsOf = groupBy(engines, ({ unit }) => unit);
  return units.flatMap((unit) =>
    enginePositions((positionsOf.get(unit.unit) ?? []).map(({ position }) => position)).map((position) => {
      const key = engineKey(unit.unit, position);
      return { ...(byEngine.get(key) ?? blankState(unit, position)), lives: livesOf.get(key) ?? [] };
    }),
  );
}

function groupBy<Row>(rows: readonly Row[], key: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const own = groups.get(key(row));
    if (own === undefined) groups.set(key(row), [row]);
    else own.push(row);
  }
  return groups;
}

/** Fits everything that is shared. Fills in each state's corrected series on the way. */
function fitFleet(states: readonly EngineState[]): FleetParameters {
  const logged = states.filter((state) => state.daily !== null);
  const { temperatures, corrections } = seasonsOf(logged);
  for (const state of logged) {
    state.series = slim(seriesOf(state.daily!, { corrections, temperatures, class: state.class }));
    state.daily = null; // the medians are needed no more: a large fleet's would fill the memory
  }
  const usual = usualLevels(logged);
  const classed = states.flatMap((state) =>
    state.lives.map((life) => ({ ...life, class: state.class, unitInServiceOn: state.unit.inServiceOn })),
  );
  const wear: WearModels = {};
  for (const component of FORECAST_COMPONENTS) {
    const model = fitWearModel(pathsOfLives(logged, component, usual));
    if (model !== null) wear[component] = model;
  }
  return { corrections, temperatures, usual, slopes: classSlopes(logged), lives: fitLifeModels(classed), wear };
}

function seasonsOf(logged: readonly EngineState[]): Pick<FleetParameters, 'temperatures' | 'corrections'> {
  const dailies = logged.map(({ class: name, daily }) => ({ class: name, daily: daily! }));
  const temperatures = dayTemperatures(dailies);
  return { temperatures, corrections: fitCorrections(dailies, temperatures) };
}

/** Only what trends and outlooks read: days and corrected values. */
function slim(series: EngineSeries['series']): EngineSeries['series'] {
  const none = new Float64Array(0);
  for (const [indicator, { day, corrected, hasTemperature }] of Object.entries(series) as [
    Indicator,
    CorrectedSeries,
  ][])
    series[indicator] = {
      day,
      corrected,
      hasTemperature,
      stratum: new Uint8Array(0),
      value: none,
      tempC: none,
      restVolts: none,
    };
  return series;
}

export function seriesOf(daily: DailyMedians, context: CorrectionContext): EngineSeries['series'] {
  const series: EngineSeries['series'] = {};
  for (const indicator of INDICATORS) {
    const corrected = correctedSeries(daily, indicator, context);
    if (corrected !== null && corrected.day.length > 0) series[indicator] = alignStrata(corrected);
  }
  return series;
}

/** The condition path of every life, cut at its end: what drift and limit are learnt from. */
function pathsOfLives(
  states: readonly EngineState[],
  component: 'battery' | 'starter',
  usual: UsualLevels,
): PathOfLife[] {
  return states.flatMap((state) =>
    state.lives
      .filter((life) => life.component === component)
      .flatMap((life) => {
        const path = conditionPath(state, component, usual, dayNumber(life.watchedFromOn));
        const cut = path === null ? null : upTo(path, dayNumber(life.watchedToOn));
        return cut === null ? [] : [{ path: cut, failed: life.end === 'failure' }];
      }),
  );
}

function upTo(path: ConditionPath, day: number): ConditionPath | null {
  let to = 0;
  while (to < path.day.length && path.day[to]! <= day) to++;
  return to === 0 ? null : { ...path, day: path.day.subarray(0, to), value: path.value.subarray(0, to) };
}

function classSlopes(states: readonly EngineState[]): FleetParameters['slopes'] {
  const classes = groupBy(states, (state) => state.class);
  return Object.fromEntries(
    [...classes]
      .sort(([a], [b]) => Number(a > b) - Number(a < b))
      .map(([name, own]) => {
        const priors: Partial<Record<Indicator, SlopePrior>> = {};
        for (const indicator of INDICATORS) {
          const slopes = own.flatMap(({ series }) => {
            const drift = driftOf(series[indicator] ?? null, -Infinity, null);
            return drift.slopePerYear === null || drift.slopeError === null
              ? []
              : [{ slope: drift.slopePerYear, error: drift.slopeError }];
          });
          priors[indicator] = slopePrior(slopes);
        }
        return [name, priors];
      }),
  );
}

type Assessing = { asOf: AsOf; orders: readonly ReadWorkOrder[] };

function ordersOf(orders: readonly ReadWorkOrder[], { unit, position }: EngineState): ReadWorkOrder[] {
  return orders.filter((order) => order.unit === unit.unit && (order.position === position || order.position === ''));
}

/** Trends and outlooks of one engine under the fleet's parameters. */
function assessEngine(
  state: EngineState,
  fleet: FleetParameters,
  { asOf, orders }: Assessing,
): { trends: Trend[]; outlooks: Outlook[] } {
  const { unit, position } = state;
  const trends: Trend[] = [];
  const outlooks: Outlook[] = [];
  for (const component of FORECAST_COMPONENTS) {
    const life = state.lives.findLast((each) => each.component === component);
    if (life === undefined || life.end !== 'in_service') continue;
    const fromDay = dayNumber(life.watchedFromOn);
    const drifts: Partial<Record<Indicator, Drift>> = {};
    for (const indicator of COMPONENT_INDICATORS[component]) {
      const drift = pooled(
        driftOf(state.series[indicator] ?? null, fromDay, state.silent),
        fleet.slopes[state.class]?.[indicator] ?? null,
      );
      drifts[indicator] = drift;
      const { slopeError: _, ...shown } = drift;
      trends.push({ unit: unit.unit, position, component, indicator, ...shown });
    }
    const path = state.silent === null ? conditionPath(state, component, fleet.usual, fromDay) : null;
    outlooks.push(
      outlookOf({
        unit: unit.unit,
        position,
        component,
        class: state.class,
        life,
        unitInServiceOn: unit.inServiceOn,
        model: fleet.lives[component][state.class] ?? fleet.lives[component]['']!,
        wear: fleet.wear[component] ?? null,
        path,
        drifts,
        troubles: troublesOf(orders, asOf),
        hasTemperature: Object.values(state.series).some((series) => series.hasTemperature),
        asOfOn: asOf.on,
      }),
    );
  }
  return { trends, outlooks };
}

function pooled(drift: Drift, prior: SlopePrior): Drift {
  if (drift.slopePerYear === null || drift.slopeError === null) return drift;
  const { slope, error } = shrunk({ slope: drift.slopePerYear, error: drift.slopeError }, prior);
  return { ...drift, slopePerYear: slope, slopeLow: slope - 1.96 * error, slopeHigh: slope + 1.96 * error };
}

function troublesOf(orders: readonly ReadWorkOrder[], asOf: AsOf): { jumpStarts: number; noStarts: number } {
  const recent = orders.filter((order) => order.openedUs > asOf.us - TROUBLE_DAYS * US_PER_DAY);
  const count = (event: ReadWorkOrder['event']) => recent.filter((order) => order.event === event).length;
  return { jumpStarts: count('jump_started'), noStarts: count('no_start') };
}

/** Units that rows name and no register knows: said, with the remedy, never guessed at. */
async function unregistered(store: Store, units: readonly Unit[], { asOf, orders }: Assessing): Promise<Outlook[]> {
  const known = new Set([...units, ...(await store.units())].map(({ unit }) => unit));
  const seen = new Map<string, { unit: string; position: string }>();
  for (const engine of await store.engines()) {
    if (known.has(engine.unit)) continue;
    const table = await store.finished(engine);
    if (table !== null && table.columns.timeUs[0]! <= asOf.us)
      seen.set(engineKey(engine.unit, engine.position), engine);
  }
  for (const order of orders)
    if (!known.has(order.unit)) seen.set(engineKey(order.unit, ''), { unit: order.unit, position: '' });
  const why = 'the unit is not in the register: load a units file that names it';
  return [...seen.values()].flatMap(({ unit, position }) =>
    FORECAST_COMPONENTS.map((component) => refusedOutlook({ unit, position, component }, why)),
  );
}
