import { createWriteStream, type WriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { once } from 'node:events';
import { join } from 'node:path';
import { dateOfDay, dayOfDate } from './calendar.ts';
import { Draws } from './draws.ts';
import { crankRow, CRANK_COLUMNS, isSilent } from './gateway.ts';
import { aheadOf, batteryChances, starterChances, type Ahead } from './true-chance.ts';
import { DRIVEN_SHARE, historyStreams, liveDay, type History } from './unit-history.ts';
import { drawUnit, MOST_PAST_DAYS, type FleetUnit, type Span } from './unit.ts';
import { futuresFrom, weatherOf, type Weather } from './weather.ts';
import { ORDER_COLUMNS, type Component, type Shop, type TrueEnd, type TrueLife } from './workshop.ts';
import type { World } from './world.ts';

/**
 * A fleet in the formats that the program reads, and apart from it what truly happened and how likely it truly was.
 * Nothing here is shared with the analysis or with the sample's generator.
 */
export type FleetOptions = {
  world: World;
  units: number;
  days: number;
  seed: number;
  out: string;
  truth: string;
  /** Days of the log, 0 the first, at whose end the true chances are asked. */
  chanceDays: readonly number[];
  lastDate?: string;
};

const LAST_DATE = '2026-10-31';
const PATHS = 200;
const HORIZON_DAYS = 90;

export async function writeFleet(options: FleetOptions): Promise<Span> {
  const { world, units, days, seed, out, truth, lastDate = LAST_DATE } = options;
  const lastDay = dayOfDate(lastDate);
  const span = { firstDay: lastDay - days + 1, lastDay };
  const files = await openFiles(out, truth);
  const past = { firstDay: span.firstDay - MOST_PAST_DAYS, days: MOST_PAST_DAYS + days };
  const weathers = new Map(world.depots.map((depot) => [depot.name, weatherOf(seed, depot, past)]));
  const ahead = allFutures(options, span, weathers);
  for (let index = 0; index < units; index++) {
    const unit = drawUnit(world, { seed, index, span });
    const history = {
      unit,
      world,
      weather: weathers.get(unit.depot.name)!,
      shop: { world, draws: new Draws(seed, 'shop', index), watched: false, lives: [], orders: [] },
      streams: historyStreams(seed, unit.unit),
    };
    await writeUnit(history, { span, files, ahead: ahead.get(unit.depot.name)!, seed });
  }
  await Promise.all(Object.values(files).map(closed));
  return span;
}

type Files = Record<'units' | 'components' | 'cranks' | 'orders' | 'lives' | 'trueOrders' | 'chances', WriteStream>;
type Writing = { span: Span; files: Files; ahead: ReadonlyMap<number, Ahead>; seed: number };

async function openFiles(out: string, truth: string): Promise<Files> {
  await mkdir(out, { recursive: true });
  await mkdir(truth, { recursive: true });
  const open = (path: string, columns: string) => {
    const stream = createWriteStream(path);
    stream.write(`${columns}\n`);
    return stream;
  };
  return {
    units: open(
      join(out, 'units.csv'),
      'unit,depot,class,system_volts,battery_count,battery_cca,cylinders,fuel,in_service_date,starts_per_day',
    ),
    components: open(join(out, 'components.csv'), 'unit,component,fitted'),
    cranks: open(join(out, 'cranks.csv'), CRANK_COLUMNS),
    orders: open(join(out, 'work_orders.csv'), ORDER_COLUMNS),
    lives: open(join(truth, 'true-lives.csv'), 'unit,position,component,fitted,removed,end,cause,recorded'),
    trueOrders: open(join(truth, 'true-work-orders.csv'), 'work_order,unit,position,repair'),
    chances: open(join(truth, 'true-chances.csv'), 'unit,position,component,date,p30,p60,p90,worn90'),
  };
}

async function closed(stream: WriteStream): Promise<void> {
  stream.end();
  await once(stream, 'finish');
}

function allFutures(
  { seed, chanceDays, world }: FleetOptions,
  { firstDay }: Span,
  weathers: ReadonlyMap<string, Weather>,
): Map<string, Map<number, Ahead>> {
  const of = (weather: Weather) =>
    new Map(
      chanceDays.map((day) => {
        const draws = new Draws(seed, 'futures', weather.depot.name, day);
        const futures = futuresFrom(weather, firstDay + day, { paths: PATHS, days: HORIZON_DAYS, draws });
        return [firstDay + day, aheadOf(futures, firstDay + day, world)];
      }),
    );
  return new Map([...weathers].map(([name, weather]) => [name, of(weather)]));
}

async function writeUnit(history: History & { shop: Shop }, { span, files, ahead, seed }: Writing): Promise<void> {
  const { unit, shop } = history;
  const seen = new Draws(seed, 'seen', unit.unit);
  for (let day = unit.inServiceDay; day < span.firstDay; day++) liveDay(history, day);
  shop.watched = true;
  writeRegister(unit, files);
  const rows: string[] = [];
  for (let day = span.firstDay; day <= span.lastDay; day++) {
    const readings = liveDay(history, day);
    if (!isSilent(unit, day, seen))
      for (const reading of readings) rows.push(crankRow(unit, day, { reading, draws: seen }));
    const from = ahead.get(day);
    if (from !== undefined) files.chances.write(chanceLines(history, { day, ahead: from, seed }));
  }
  if (!files.cranks.write(rows.map((row) => `${row}\n`).join(''))) await once(files.cranks, 'drain');
  for (const order of shop.orders) {
    files.orders.write(`${order.line}\n`);
    files.trueOrders.write(`${order.workOrder},${order.unit},,${order.repair}\n`);
  }
  for (const life of [...shop.lives, ...stillIn(unit)]) files.lives.write(lifeLine(life));
}

function writeRegister(unit: FleetUnit, files: Files): void {
  const { design, battery, starter } = unit;
  const cells = [unit.unit, unit.depot.name, unit.class, design.systemVolts, design.systemVolts / 12, design.ccaA];
  const service = [design.cylinders, design.fuel, dateOfDay(unit.inServiceDay), unit.startsPerDay.toFixed(1)];
  files.units.write(`${[...cells, ...service].join(',')}\n`);
  if (!unit.partsKnown) return;
  files.components.write(`${unit.unit},battery,${dateOfDay(battery.fittedDay)}\n`);
  files.components.write(`${unit.unit},starter,${dateOfDay(starter.fittedDay)}\n`);
}

function chanceLines({ unit, world }: History, at: { day: number; ahead: Ahead; seed: number }): string {
  const { day, ahead, seed } = at;
  const use = { startsPerDay: unit.startsPerDay, drivenShare: DRIVEN_SHARE, heatK: unit.design.heatK };
  const draws = new Draws(seed, 'chance', unit.unit, day);
  const chances = {
    battery: batteryChances(unit.battery, { world, use, ahead, draws }),
    starter: starterChances(unit.starter, { world, use, ahead, draws }),
  };
  return (['battery', 'starter'] as const)
    .map((component) => {
      const { p30, p60, p90, worn90 } = chances[component];
      return `${unit.unit},,${component},${dateOfDay(day)},${[p30, p60, p90, worn90].map((p) => p.toFixed(5)).join(',')}\n`;
    })
    .join('');
}

function stillIn(unit: FleetUnit): TrueLife[] {
  return (['battery', 'starter'] as const).map((component: Component) => ({
    unit: unit.unit,
    component,
    fittedDay: unit[component].fittedDay,
    removedDay: null,
    end: 'in_service' satisfies TrueEnd,
    sudden: unit[component].broken,
    recorded: true,
  }));
}

function lifeLine({ unit, component, fittedDay, removedDay, end, sudden, recorded }: TrueLife): string {
  const removed = removedDay === null ? '' : dateOfDay(removedDay);
  const cause = sudden ? 'sudden' : 'worn';
  return `${unit},,${component},${dateOfDay(fittedDay)},${removed},${end},${cause},${Number(recorded)}\n`;
}
