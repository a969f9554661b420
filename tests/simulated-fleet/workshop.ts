import { BATTERY_REPLACED, capability, newBattery } from './battery.ts';
import { instantOf } from './calendar.ts';
import type { Draws } from './draws.ts';
import { newStarter, STARTER_REPLACED } from './starter.ts';
import type { FleetUnit } from './unit.ts';
import { wordsFor, type Reason, type Repair } from './work-words.ts';
import type { World } from './world.ts';

export type Component = 'battery' | 'starter';
export type TrueEnd = 'failure' | 'planned' | 'wrong_part' | 'in_service';
export type TrueLife = {
  unit: string;
  component: Component;
  fittedDay: number;
  removedDay: number | null;
  end: TrueEnd;
  sudden: boolean;
  recorded: boolean;
};
export type TrueOrder = { line: string; workOrder: string; unit: string; repair: Repair };

/** What people did, in time order. `watched` is false in the years before the log. */
export type Shop = { world: World; draws: Draws; watched: boolean; lives: TrueLife[]; orders: TrueOrder[] };
export type At = { unit: FleetUnit; day: number; shop: Shop };

export const ORDER_COLUMNS =
  'work_order,unit,opened,closed,entered,complaint,cause,correction,road_call,parts_cost,labor_hours,downtime_hours';

/** The bank did not turn the engine. */
export function afterDeadBattery(at: At): void {
  const { shop, unit } = at;
  if (shop.draws.chance(BATTERY_REPLACED)) return replace(at, 'battery', 'failure');
  unit.charge = 0.9;
  write(at, 'jump_start', 'failed');
}

export function afterDeadStarter(at: At): void {
  const { shop } = at;
  if (shop.draws.chance(STARTER_REPLACED)) return replace(at, 'starter', 'failure');
  if (shop.draws.chance(shop.world.wrongPart)) replace(at, 'battery', 'wrong_part');
}

/** Something stayed on overnight: the bank is flat, not worn. */
export function afterFlatBattery(at: At): void {
  if (at.shop.draws.chance(0.12)) return replace(at, 'battery', 'wrong_part');
  at.unit.charge = 0.85;
  write(at, 'jump_start', 'failed');
}

const TESTED = 0.3;
const TESTER_SD = 0.07;
/** Battery testers call for another below 60 to 80 % of rated CCA. */
const TESTER_LIMIT = 0.62;
const OLD_DAYS = 5.5 * 365;

/** A planned visit: some banks are put on a tester, some parts are changed for their age. */
export function plannedVisit(at: At): void {
  const { unit, shop, day } = at;
  const { draws, world } = shop;
  const read = capability(unit.battery, world) * draws.lognormal(TESTER_SD);
  const old = day - unit.battery.fittedDay > OLD_DAYS && draws.chance(0.1);
  if ((draws.chance(TESTED) && read < TESTER_LIMIT && draws.chance(0.6)) || old) replace(at, 'battery', 'planned');
  if (day - unit.starter.fittedDay > OLD_DAYS && draws.chance(0.03)) replace(at, 'starter', 'planned');
}

function replace(at: At, component: Component, end: TrueEnd): void {
  const { unit, day, shop } = at;
  const { world, draws } = shop;
  const recorded = component === 'starter' || !draws.chance(world.unrecorded);
  const { fittedDay, broken } = unit[component];
  if (shop.watched)
    shop.lives.push({ unit: unit.unit, component, fittedDay, removedDay: day, end, sudden: broken, recorded });
  if (component === 'battery') {
    unit.battery = newBattery(world, unit.class, { day, draws });
    unit.charge = 0.97;
  } else unit.starter = newStarter(world, unit.class, { day, draws });
  if (recorded) write(at, `${component}_replaced`, end === 'planned' ? 'planned' : 'failed');
}

/** Cost, hours: invented. */
const BILL: Record<Repair, readonly [parts: number, hours: number]> = {
  battery_replaced: [260, 1.2],
  starter_replaced: [420, 2.5],
  jump_start: [0, 0.5],
  unrelated: [80, 1.5],
};
const LATE = 0.1;

export function write({ unit, day, shop }: At, repair: Repair, reason: Reason): void {
  if (!shop.watched) return;
  const { draws, orders } = shop;
  const [parts, hours] = BILL[repair].map((each) => each * draws.between(0.6, 1.6)) as [number, number];
  const opened = draws.between(21_000, 60_000);
  const closed = opened + 3600 * hours * draws.between(1, 4);
  const entered = closed + 86_400 * (draws.chance(LATE) ? draws.between(4, 24) : draws.between(0.1, 2.5));
  const workOrder = `${unit.unit}-${String(orders.length + 1).padStart(4, '0')}`;
  const cells = [
    workOrder,
    unit.unit,
    ...[opened, closed, entered].map((second) => instantOf(day, second)),
    ...wordsFor(repair, reason, draws).map((text) => (text.includes(',') ? `"${text}"` : text)),
    Number(repair !== 'unrelated' && reason === 'failed' && draws.chance(0.5)),
    parts.toFixed(2),
    hours.toFixed(1),
    ((closed - opened) / 3600).toFixed(1),
  ];
  orders.push({ line: cells.join(','), workOrder, unit: unit.unit, repair });
}
