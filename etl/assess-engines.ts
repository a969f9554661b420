import { engineKey, enginePositions } from './lives/build-lives.ts';
import type { BatteryStep } from './model/battery-step.ts';
import { fleetClock } from './model/fleet-clock.ts';
import { groupBy } from './model/group-by.ts';
import type { ServiceLife } from './model/service-life.ts';
import { dateOf, dayNumber, type AsOf } from './model/time.ts';
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

/** One engine's daily medians, and the day of its first crank, which counts or not. */
export type EngineDays = { daily: DailyMedians; firstDay: number };
/** Up to when, and by whose days. */
export type Until = { untilUs: number; timeZone: string };
/** An engine's days up to an instant; null where it had no crank by then. */
export type DailyReader = (engine: Engine, until: Until) => Promise<EngineDays | null>;

/** What an engine's cranks up to an instant give, whatever its records say. */
export type EngineReading = EngineDays & { batterySteps: BatteryStep[] };

export async function readEngine(read: DailyReader, engine: Engine, until: Until): Promise<EngineReading | null> {
  const found = await read(engine, until);
  return found === null ? null : { ...found, batterySteps: batterySteps(found.daily) };
}

type Known = { asOf: AsOf; units: readonly Unit[]; orders: readonly ReadWorkOrder[] };

/** The engines of registered units that had a crank by then, in the order of the readings. */
export function loggedEngines(
  engines: readonly Engine[],
  readings: readonly (EngineReading | null)[],
  { asOf, units, orders }: Known,
): EngineState[] {
  const unitOf = new Map(units.map((unit) => [unit.unit, unit]));
  const lastOrderDay = new Map<string, number>();
  for (const { unit, openedDay } of orders)
    lastOrderDay.set(unit, Math.max(openedDay, lastOrderDay.get(unit) ?? -Infinity));
  return engines.flatMap(({ unit, position }, index) => {
    const reading = readings[index];
    const registered = unitOf.get(unit);
    if (registered === undefined || reading === null || reading === undefined) return [];
    return [loggedEngine({ unit: registered, position, reading }, dayNumber(asOf.on), lastOrderDay.get(unit) ?? null)];
  });
}

type Logged = { unit: Unit; position: string; reading: EngineReading };

function loggedEngine({ unit, position, reading }: Logged, asOfDay: number, lastOrderDay: number | null): EngineState {
  const { daily, firstDay, batterySteps: steps } = reading;
  const lastDay = daily.day.at(-1) ?? null;
  return {
    ...blankState(unit, position),
    daily,
    firstSeenOn: dateOf(firstDay),
    lastDay,
    batterySteps: steps,
    silent: silence(lastDay, asOfDay, lastOrderDay),
  };
}

/** Daily medians straight out of the store: one block at a time. */
export function dailyOf(store: Store): DailyReader {
  return async (engine, { untilUs, timeZone }) => {
    const table = await store.finished(engine);
    const firstUs = table?.columns.timeUs[0];
    if (table === null || firstUs === undefined || firstUs > untilUs) return null;
    const clock = fleetClock(timeZone);
    return { daily: dailyMedians(table, untilUs, clock), firstDay: clock.dayOf(firstUs) };
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
