import { completeStates, readEngines, type DailyReader, type EngineState } from './assess-engines.ts';
import { fitFleet, type FleetParameters } from './assess-fleet.ts';
import { buildLives, engineKey } from './lives/build-lives.ts';
import { readKnownOrders } from './lives/read-known-orders.ts';
import { groupBy } from './model/group-by.ts';
import type { Outlook } from './model/outlook.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber, US_PER_DAY, type AsOf } from './model/time.ts';
import type { Trend } from './model/trend.ts';
import type { Unit } from './model/unit.ts';
import { FORECAST_COMPONENTS, type Indicator } from './model/words.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import { conditionPath } from './outlook/condition-index.ts';
import { outlookOf, refusedOutlook } from './outlook/outlook-of.ts';
import type { Assessment, Store } from './store/store.ts';
import { COMPONENT_INDICATORS } from './trends/indicators.ts';
import { shrunk, type SlopePrior } from './trends/shrink-slopes.ts';
import { NOT_RECORDED, whereSilent, type Drift } from './trends/trend-of.ts';
import { voltageWitness } from './voltage-witness.ts';

export type AssessOptions = {
  onProgress?: (done: number, total: number) => void;
  /** Where daily medians come from; read out of the store if left out. Must give what that would give. */
  daily?: DailyReader;
};

/** Troubles that a record names count as a reason for so long. Convention of this program. */
const TROUBLE_DAYS = 90;

/**
 * Trends, lives and outlooks of the fleet as of a date, from what was known by then and nothing later. Reads only; the
 * caller saves. Time and memory grow with the number of engine-days.
 */
export async function assess(
  store: Store,
  asOf: AsOf,
  options: AssessOptions = {},
): Promise<Assessment & { fleet: FleetParameters }> {
  const { units, orders, lives, states } = await knownFleet(store, asOf, options);
  const fleet = fitFleet(states);
  const inService = states.filter(({ unit }) => unit.outOfServiceOn === null || unit.outOfServiceOn > asOf.on);
  const ordersOf = groupBy(orders, ({ unit }) => unit);
  const assessed = inService.map((state) => {
    const own = (ordersOf.get(state.unit.unit) ?? []).filter(({ position }) => isOf(position, state));
    return assessEngine(state, fleet, { asOf, orders: own });
  });
  const refused = await unregistered(store, units, { asOf, orders });
  return {
    asOf,
    lives,
    trends: assessed.flatMap(({ trends }) => trends),
    outlooks: [...assessed.flatMap(({ outlooks }) => outlooks), ...refused].sort(byKey),
    fleet,
  };
}

/** What was known of the fleet by a date: its register, how its records are read, the lives they make, its engines. */
export type KnownFleet = {
  units: Unit[];
  orders: ReadWorkOrder[];
  lives: ServiceLife[];
  states: EngineState[];
};

export async function knownFleet(store: Store, asOf: AsOf, options: AssessOptions = {}): Promise<KnownFleet> {
  const { systemCodes } = await store.settings();
  const units = (await store.units(asOf.us)).filter((unit) => unit.inServiceOn === null || unit.inServiceOn <= asOf.on);
  const records = await store.workOrders(asOf.us);
  const orders = readKnownOrders(records, { systemCodes, corrections: await store.readingCorrections() });
  const parts = (await store.fittedParts(asOf.us)).filter((part) => part.fittedOn <= asOf.on);
  const { onProgress, daily } = options;
  const states = await readEngines(store, { asOf, units, orders, onProgress, daily });
  const engines = [...states.map(({ unit, position }) => ({ unit: unit.unit, position })), ...named(records, parts)];
  const firstSeenOn = new Map(
    states.flatMap(({ unit, position, firstSeenOn: on }) =>
      on === null ? [] : [[engineKey(unit.unit, position), on] as const],
    ),
  );
  const voltage = voltageWitness(states);
  const lives = buildLives({ units, engines, parts, orders, firstSeenOn, ...voltage, asOfOn: asOf.on });
  return { units, orders, lives, states: completeStates(states, { units, lives, engines }) };
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

type Assessing = { asOf: AsOf; orders: readonly ReadWorkOrder[] };

/** A record without a position speaks of every engine of its unit. */
function isOf(position: string, engine: EngineState): boolean {
  return position === engine.position || position === '';
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
        whereSilent(state.series[indicator]?.drift ?? NOT_RECORDED, state.silent),
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
        recalibration: fleet.recalibration[component],
        path,
        drifts,
        troubles: troublesOf(orders, asOf),
        hasTemperature: Object.values(state.series).some((series) => series.hasTemperature),
        asOfOn: asOf.on,
        systemVolts: unit.systemVolts,
        batteryCcaA: unit.batteryCcaA,
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
