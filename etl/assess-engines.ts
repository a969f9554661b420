import { engineKey, enginePositions } from './lives/build-lives.ts';
import type { BatteryStep } from './model/battery-step.ts';
import { groupBy } from './model/group-by.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dayNumber, dayOf, US_PER_DAY, type AsOf } from './model/time.ts';
import type { TrendStanding } from './model/trend.ts';
import type { Engine, Unit } from './model/unit.ts';
import type { ReadWorkOrder } from './model/work-order.ts';
import type { EngineSeries } from './outlook/condition-index.ts';
import type { Store } from './store/store.ts';
import { batterySteps } from './trends/battery-steps.ts';
import { dailyMedians, type DailyMedians } from './trends/daily-medians.ts';

/** One engine of a registered unit, as an assessment works on it. */
export type EngineState = {
  unit: Unit;
  position: string;
  class: string;
  daily: DailyMedians | null;
  firstSeenOn: string | null;
  lastDay: number | null;
  series: EngineSeries['series'];
  lives: ServiceLife[];
  silent: TrendStanding | null;
  batterySteps: BatteryStep[];
};

/** A logger that has said nothing for so long is silent, or the unit is parked. Convention of this program. */
const SILENT_DAYS = 30;

/** One engine's daily medians up to an instant, and its first crank (µs); null where it had none by then. */
export type DailyReader = (engine: Engine, untilUs: number) => Promise<{ daily: DailyMedians; firstUs: number } | null>;

type ReadContext = {
  asOf: AsOf;
  units: readonly Unit[];
  orders: readonly ReadWorkOrder[];
  onProgress: ((done: number, total: number) => void) | undefined;
  daily: DailyReader | undefined;
};

/** Daily medians of every engine of a registered unit: one block at a time, only the medians are kept. */
export async function readEngines(
  store: Store,
  { asOf, units, orders, onProgress, daily = dailyOf(store) }: ReadContext,
): Promise<EngineState[]> {
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
      const state = await readEngine(daily, engine, {
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

/** Daily medians straight out of the store: one block at a time. */
export function dailyOf(store: Store): DailyReader {
  return async (engine, untilUs) => {
    const table = await store.finished(engine);
    const firstUs = table?.columns.timeUs[0];
    if (table === null || firstUs === undefined || firstUs > untilUs) return null;
    return { daily: dailyMedians(table, untilUs), firstUs };
  };
}

type EngineContext = { unit: Unit; asOf: AsOf; lastOrderDay: number | null };

async function readEngine(
  read: DailyReader,
  engine: Engine,
  { unit, asOf, lastOrderDay }: EngineContext,
): Promise<EngineState | null> {
  const found = await read(engine, asOf.us);
  if (found === null) return null;
  const { daily, firstUs } = found;
  const lastDay = daily.day.at(-1) ?? null;
  return {
    ...blankState(unit, engine.position),
    daily,
    firstSeenOn: dayOf(firstUs),
    lastDay,
    batterySteps: batterySteps(daily),
    silent: silence(lastDay, dayNumber(asOf.on), lastOrderDay),
  };
}

/** No cranks for a month: a work order since then says that the unit is at work and its logger silent; else it is parked. */
function silence(lastDay: number | null, asOfDay: number, lastOrderDay: number | null): TrendStanding | null {
  if (lastDay === null || asOfDay - lastDay <= SILENT_DAYS) return null;
  return lastOrderDay !== null && lastOrderDay > lastDay + 1 ? 'logger_silent' : 'parked';
}

function blankState(unit: Unit, position: string): EngineState {
  const nothing = { daily: null, firstSeenOn: null, lastDay: null, silent: null, batterySteps: [] };
  return { unit, position, class: unit.class, series: {}, lives: [], ...nothing };
}

type Completing = {
  units: readonly Unit[];
  lives: readonly ServiceLife[];
  engines: readonly { unit: string; position: string }[];
};

/** One state per engine of every registered unit, logged or not, with its lives. */
export function completeStates(logged: readonly EngineState[], { units, lives, engines }: Completing): EngineState[] {
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
