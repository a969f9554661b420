import type { BatteryStep } from '../model/battery-step.ts';
import { groupBy } from '../model/group-by.ts';
import type { FittedPart } from '../model/part.ts';
import type { ServiceLife } from '../model/service-life.ts';
import { dateOf, dayNumber } from '../model/time.ts';
import type { Unit } from '../model/unit.ts';
import { FORECAST_COMPONENTS, type Component } from '../model/words.ts';
import type { ReadWorkOrder } from '../model/work-order.ts';
import type { Replacement } from './replacement.ts';
import { replacementsOf } from './replacements.ts';
import { isNear, type StepsOfEngine } from './steps-of-engine.ts';
import { withoutWrongStarters } from './wrong-starter.ts';

export type LivesInput = {
  units: readonly Unit[];
  /** Engines that are known of (by cranks, orders or parts); a unit without any has one at position ''. */
  engines: readonly { unit: string; position: string }[];
  parts: readonly FittedPart[];
  orders: readonly ReadWorkOrder[];
  /** First day with a crank, by `engineKey`. */
  firstSeenOn: ReadonlyMap<string, string>;
  /** Steps in the voltage of each engine that has any, by `engineKey`. */
  batterySteps?: ReadonlyMap<string, readonly BatteryStep[]>;
  /** Was the bank that came out that day sound all the same, as far as the voltage shows? */
  wasSound?: (unit: string, position: string, day: number) => boolean;
  /** Did a worn bank come out in the days after a starter was exchanged, as far as the voltage shows? */
  wornBankOut?: (unit: string, position: string, day: number) => boolean;
  /** The last day before another on which the engine was turned, as far as a log shows; null where none does. */
  lastGoodCrank?: (unit: string, position: string, before: number) => number | null;
  asOfOn: string;
  /** From when on the fleet's records were kept, where these are not all of them; see `recordsBegin`. */
  recordsFromDay?: number;
};

export function engineKey(unit: string, position: string): string {
  return `${unit}\u0000${position}`;
}

type Watch = { from: number; to: number; out: boolean; lastGood: (before: number) => number | null };

/**
 * Service lives of every registered unit's components, as of a day, sorted by unit, position, component, time.
 *
 * A life ends in `failure` (an unplanned replacement), `planned` (a planned one, or the unit left service) or is
 * still `in_service`. A component that was there before anything was recorded is left-truncated, not new: its fitting
 * is unknown unless the unit itself entered service within the records, and it counts from `watchedFromOn` on.
 */
export function buildLives(input: LivesInput): ServiceLife[] {
  const asOfDay = dayNumber(input.asOfOn);
  const ordersOf = groupBy(input.orders, (order) => order.unit);
  const partsOf = groupBy(
    input.parts.filter((part) => dayNumber(part.fittedOn) <= asOfDay),
    (part) => part.unit,
  );
  const positionsOf = groupBy(input.engines, (engine) => engine.unit);
  const recordsFrom = input.recordsFromDay ?? recordsBegin(input.orders);
  const stepsOf = (unit: string, position: string) => input.batterySteps?.get(engineKey(unit, position)) ?? [];
  const exchangesOf = (unit: string, steps: readonly StepsOfEngine[]) => {
    const orders = ordersOf.get(unit) ?? [];
    const placed = placeVague(replacementsOf(orders, partsOf.get(unit) ?? [], steps), steps).map((each) => {
      const sound = isReported(each) && input.wasSound?.(unit, each.position, each.removedDay) === true;
      return sound ? { ...each, unplanned: false } : each;
    });
    return withoutWrongStarters(placed, orders, (...place) => input.wornBankOut?.(unit, ...place) === true);
  };
  const lives = input.units
    .filter((unit) => unit.inServiceOn === null || dayNumber(unit.inServiceOn) <= asOfDay)
    .flatMap((unit) => {
      const positions = enginePositions((positionsOf.get(unit.unit) ?? []).map(({ position }) => position));
      const steps = positions.map((position) => ({ position, steps: stepsOf(unit.unit, position) }));
      const exchanges = exchangesOf(unit.unit, steps);
      return positions.flatMap((position) => {
        const seen = input.firstSeenOn.get(engineKey(unit.unit, position));
        const firstDay = earliest([recordsFrom, seen === undefined ? Infinity : dayNumber(seen)]);
        const lastGood = (before: number) => input.lastGoodCrank?.(unit.unit, position, before) ?? null;
        return livesOfEngine(
          unit,
          position,
          exchanges.filter((each) => each.position === position),
          { ...watchOf(unit, firstDay, asOfDay), lastGood },
        );
      });
    });
  return lives.sort(byKey);
}

/** '' is a vague record on a unit whose engines are named; on any other unit it is the engine. */
export function enginePositions(seen: readonly string[]): string[] {
  const named = [...new Set(seen)].filter((position) => position !== '').sort();
  return named.length > 0 ? named : [''];
}

/** A battery that a record says was exchanged for a complaint. */
function isReported({ component, unplanned, workOrder }: Replacement): boolean {
  return component === 'battery' && unplanned && workOrder !== '';
}

/**
 * A replacement without a position on a unit of several engines: a battery went where the voltage shows a new one, else
 * a bank serves them all; any other part went where one of its kind had served longest.
 */
function placeVague(exchanges: readonly Replacement[], engines: readonly StepsOfEngine[]): Replacement[] {
  const positions = engines.map(({ position }) => position);
  const placed = exchanges.filter((each) => positions.includes(each.position));
  for (const vague of exchanges.filter((each) => !positions.includes(each.position))) {
    const banks = vague.component === 'battery' ? banksOf(vague, engines) : [];
    if (banks.length > 0) placed.push(...banks.map((position) => ({ ...vague, position })));
    else placed.push({ ...vague, position: longestServing(vague, placed, positions) });
  }
  return placed.sort((a, b) => a.fittedDay - b.fittedDay);
}

function banksOf(vague: Replacement, engines: readonly StepsOfEngine[]): string[] {
  const shown = engines.filter(({ steps }) => steps.some(({ day }) => isNear(day, vague)));
  return (shown.length > 0 ? shown : engines).map(({ position }) => position);
}

function longestServing(vague: Replacement, placed: readonly Replacement[], positions: readonly string[]): string {
  const lastFitted = (position: string) =>
    placed
      .filter(
        (each) => each.position === position && each.component === vague.component && each.fittedDay < vague.removedDay,
      )
      .reduce((last, each) => Math.max(last, each.fittedDay), -Infinity);
  return positions.reduce(
    (best, position) => (lastFitted(position) < lastFitted(best) ? position : best),
    positions[0] ?? '',
  );
}

function watchOf(unit: Unit, recordsFrom: number, asOfDay: number): Omit<Watch, 'lastGood'> {
  const inService = unit.inServiceOn === null ? -Infinity : dayNumber(unit.inServiceOn);
  const outDay = unit.outOfServiceOn === null ? Infinity : dayNumber(unit.outOfServiceOn);
  const to = Math.min(asOfDay, outDay);
  const from = Math.max(inService, Number.isFinite(recordsFrom) ? recordsFrom : to);
  return { from: Math.min(from, to), to, out: outDay <= asOfDay };
}

function livesOfEngine(unit: Unit, position: string, exchanges: readonly Replacement[], watch: Watch): ServiceLife[] {
  const components = new Set<Component>([...FORECAST_COMPONENTS, ...exchanges.map((each) => each.component)]);
  return [...components].flatMap((component) => {
    const own = exchanges.filter((each) => each.component === component && each.removedDay <= watch.to);
    // An engine that turns says nothing of its charging.
    const seen = component === 'charging' ? { ...watch, lastGood: () => null } : watch;
    return chain(unit, own, seen).map((life) => ({ ...life, unit: unit.unit, position, component }));
  });
}

/** The lives of one component in a row: the one found at the start, then one per exchange. */
function chain(
  unit: Unit,
  exchanges: readonly Replacement[],
  watch: Watch,
): Omit<ServiceLife, 'unit' | 'position' | 'component'>[] {
  const inService = unit.inServiceOn === null ? null : dayNumber(unit.inServiceOn);
  const bornWatched = inService !== null && inService >= watch.from;
  let fitted: { day: number | null; from: 'record' | 'assumed'; order: string } = {
    day: bornWatched ? inService : null,
    from: 'assumed',
    order: '',
  };
  const lives: ReturnType<typeof chain> = [];
  for (const exchange of exchanges) {
    const before = fitted;
    fitted = { day: exchange.fittedDay, from: exchange.fittedFrom, order: exchange.workOrder };
    if (exchange.removedDay < watch.from || exchange.removedDay <= (before.day ?? -Infinity)) continue;
    lives.push(
      lifeOf(before, exchange.removedDay, watch, {
        end: exchange.unplanned ? 'failure' : 'planned',
        workOrder: exchange.workOrder,
      }),
    );
  }
  lives.push(lifeOf(fitted, watch.to, watch, { end: watch.out ? 'planned' : 'in_service', workOrder: fitted.order }));
  return lives;
}

function lifeOf(
  fitted: { day: number | null; from: 'record' | 'assumed' },
  lastDay: number,
  watch: Watch,
  ending: { end: ServiceLife['end']; workOrder: string },
): Omit<ServiceLife, 'unit' | 'position' | 'component'> {
  const watchedFrom = Math.min(lastDay, Math.max(watch.from, fitted.day ?? -Infinity));
  const lastGood = ending.end === 'failure' ? watch.lastGood(lastDay) : null;
  return {
    fittedOn: fitted.day === null ? null : dateOf(fitted.day),
    fittedFrom: fitted.from,
    removedOn: ending.end === 'in_service' ? null : dateOf(lastDay),
    end: ending.end,
    ...(lastGood !== null && { failedAfterOn: dateOf(Math.max(lastGood, watchedFrom)) }),
    watchedFromOn: dateOf(watchedFrom),
    watchedToOn: dateOf(lastDay),
    workOrder: ending.workOrder,
  };
}

/** Day from which orders were kept: the first hundredth is passed over, so that one mistyped year does not decide. */
export function recordsBegin(orders: readonly ReadWorkOrder[]): number {
  const days = Float64Array.from(orders, (order) => order.openedDay).sort();
  return days[Math.floor(days.length / 100)] ?? Infinity;
}

function earliest(days: readonly number[]): number {
  return days.reduce((least, day) => Math.min(least, day), Infinity);
}

function byKey(a: ServiceLife, b: ServiceLife): number {
  const text = (x: string, y: string) => (x < y ? -1 : x > y ? 1 : 0);
  return (
    text(a.unit, b.unit) ||
    text(a.position, b.position) ||
    text(a.component, b.component) ||
    text(a.watchedFromOn, b.watchedFromOn) ||
    text(a.fittedOn ?? '', b.fittedOn ?? '')
  );
}
