import { and, asc, eq, getTableColumns, gt, sql, type SQL } from 'drizzle-orm';
import type { SQLiteColumn } from 'drizzle-orm/sqlite-core';
import { fleetClock, type FleetClock } from '../model/fleet-clock.ts';
import type { FittedPart } from '../model/part.ts';
import type { SetAside } from '../model/set-aside.ts';
import type { Unit } from '../model/unit.ts';
import { knownUs, workOrderAsKnown, type WorkOrder } from '../model/work-order.ts';
import type { Connection } from './connection.ts';
import { bare, byText, laterKnown } from './later-known.ts';
import { isLiveOne } from './live-one.ts';
import {
  benchResultRows,
  importEngines,
  engines,
  importFiles,
  imports,
  partRows,
  setAsideRows,
  shopVisitRows,
  troubleCodeRows,
  unitRows,
  workOrderRows,
} from './schema/loaded.ts';
import { clockOfFleet } from './clock-of-fleet.ts';
import { registeredIn, unitNames, unitSpellings } from './unit-names.ts';
import { unreadableRows } from './unreadable-files.ts';

export const isLive = (importId: SQL | SQLiteColumn) =>
  sql`${importId} in (select import_id from ${imports} where state = 'live')`;

/** A row that does not say when it was entered is known from the beginning, and gives way to one that does. */
const enteredOr = (enteredUs: number | null, { recordUs }: FleetClock) =>
  enteredUs === null ? -Infinity : recordUs(enteredUs);

export function unitsKnown(connection: Connection, asOfUs = Infinity, unit?: string): Unit[] {
  const names = unitNames(connection, unit);
  const clock = asOfUs === Infinity ? fleetClock('UTC') : clockOfFleet(connection);
  const rows = registerRows(connection, unit)
    .map((row) => ({ ...row, unit: names.nameOf(row.unit), knownUs: enteredOr(row.enteredUs, clock) }))
    .filter((row) => row.knownUs <= asOfUs);
  return laterKnown(rows, (row) => row.unit)
    .map(bare)
    .sort((a, b) => Number(a.unit > b.unit) - Number(a.unit < b.unit));
}

/** Of one unit by a statement that is built once: every engine that a load touches asks for its unit. */
function registerRows(connection: Connection, unit?: string) {
  const { db } = connection;
  if (unit === undefined) return db.select().from(unitRows).where(isLive(unitRows.importId)).all();
  const { spellings } = unitSpellings(connection, unit);
  const ofSpelling = registerRowsOf.get(db) ?? preparedRegisterRows(db);
  registerRowsOf.set(db, ofSpelling);
  return spellings.flatMap((spelling) => ofSpelling.all({ spelling }));
}

const registerRowsOf = new WeakMap<Connection['db'], ReturnType<typeof preparedRegisterRows>>();

function preparedRegisterRows(db: Connection['db']) {
  const isOfSpelling = eq(unitRows.unit, sql.placeholder('spelling'));
  return db
    .select()
    .from(unitRows)
    .where(and(sql.raw(isLiveOne('unit_rows')), isOfSpelling))
    .prepare();
}

export function partsKnown(connection: Connection, asOfUs: number, unit?: string): FittedPart[] {
  const clock = clockOfFleet(connection);
  const names = unitNames(connection, unit);
  const rows = connection.db
    .select()
    .from(partRows)
    .where(and(isLive(partRows.importId), names.isOf(partRows.unit)))
    .all()
    .map((row) => ({ ...row, unit: names.nameOf(row.unit), knownUs: enteredOr(row.enteredUs, clock) }))
    .filter((row) => row.knownUs <= asOfUs);
  return laterKnown(rows, (row) => JSON.stringify([row.unit, row.component, row.position, row.fittedOn]))
    .map(bare)
    .sort(byPlaceAndDay);
}

function byPlaceAndDay(a: FittedPart, b: FittedPart): number {
  const place = byText(a.unit, b.unit) || byText(a.component, b.component) || byText(a.position, b.position);
  return place || byText(a.fittedOn, b.fittedOn);
}

/** Of the versions of an order that were known then the latest, reduced to what could be read at the time. */
export function workOrdersKnown(connection: Connection, asOfUs: number, unit?: string): WorkOrder[] {
  const names = unitNames(connection, unit);
  const rows = connection.db
    .select()
    .from(workOrderRows)
    .where(and(isLive(workOrderRows.importId), names.isOf(workOrderRows.unit)))
    .all();
  return laterKnown(ordersBy(asOfUs, dated(rows, clockOfFleet(connection)), names.nameOf), (row) =>
    JSON.stringify([row.workOrder, row.unit]),
  )
    .flatMap((row) => workOrderAsKnown(bare(row), asOfUs) ?? [])
    .sort((a, b) => byText(a.unit, b.unit) || a.openedUs - b.openedUs || byText(a.workOrder, b.workOrder));
}

/** A date alone means the fleet's own day. Written into the rows themselves, as below. */
function* dated<Row extends RecordTimes>(rows: readonly Row[], { recordUs }: FleetClock): Generator<Row> {
  const orNone = (us: number | null) => (us === null ? null : recordUs(us));
  for (const row of rows)
    yield Object.assign(row, {
      openedUs: recordUs(row.openedUs),
      closedUs: orNone(row.closedUs),
      enteredUs: orNone(row.enteredUs),
    });
}

type RecordTimes = Pick<WorkOrder, 'openedUs' | 'closedUs' | 'enteredUs'>;

/** Written into the rows themselves: a fleet's orders are too many to be held twice. */
function* ordersBy(
  asOfUs: number,
  rows: Iterable<typeof workOrderRows.$inferSelect>,
  nameOf: (spelling: string) => string,
): Generator<typeof workOrderRows.$inferSelect & { knownUs: number }> {
  for (const row of rows) {
    const us = knownUs(row);
    if (us <= asOfUs) yield Object.assign(row, { unit: nameOf(row.unit), knownUs: us });
  }
}

/** Units that loaded rows name and no register row does, with how many rows wait for each. */
export function waitingUnits(connection: Connection): { unit: string; rows: number }[] {
  const { nameOf } = unitNames(connection);
  const isRegistered = registeredIn(connection);
  const waiting = new Map<string, number>();
  for (const { unit, rows } of waitingSpellings(connection)) {
    const name = nameOf(unit);
    if (name === unit || !isRegistered(name)) waiting.set(name, (waiting.get(name) ?? 0) + rows);
  }
  return [...waiting].map(([unit, rows]) => ({ unit, rows })).sort((a, b) => byText(a.unit, b.unit));
}

function waitingSpellings({ db }: Connection): { unit: string; rows: number }[] {
  return db.all(sql`
    select unit, sum(rows) as rows from (
      select e.unit as unit, sum(i.rows) as rows from ${importEngines} i join ${engines} e using (engine_id)
        where ${isLive(sql`i.import_id`)} group by e.unit
      union all select unit, count(*) from ${workOrderRows} where ${isLive(workOrderRows.importId)} group by unit
      union all select unit, count(*) from ${partRows} where ${isLive(partRows.importId)} group by unit
      union all select unit, count(*) from ${benchResultRows} where ${isLive(benchResultRows.importId)} group by unit
      union all select unit, count(*) from ${troubleCodeRows} where ${isLive(troubleCodeRows.importId)} group by unit
      union all select unit, count(*) from ${shopVisitRows} where ${isLive(shopVisitRows.importId)} group by unit
    ) where unit not in (select unit from ${unitRows} where ${isLive(unitRows.importId)})
    group by unit`);
}

/** Newest accepted crank or record up to a limit, µs. One look-up for each engine of each import; records are scanned. */
export function newestKnown(connection: Connection, limitUs: number): number | null {
  const { sqlite, db } = connection;
  const crankUs = sqlite
    .prepare<[number], number | null>(
      `select max((select max(time_us) from crank_rows as c
        where c.import_id = i.import_id and c.engine_id = i.engine_id and time_us <= ?))
       from import_engines as i where import_id in (select import_id from imports where state = 'live')`,
    )
    .pluck()
    .get(limitUs);
  let newest = crankUs ?? -Infinity;
  const orders = db
    .select({ openedUs: workOrderRows.openedUs, closedUs: workOrderRows.closedUs, enteredUs: workOrderRows.enteredUs })
    .from(workOrderRows)
    .where(isLive(workOrderRows.importId))
    .all();
  for (const order of dated(orders, clockOfFleet(connection)))
    if (knownUs(order) <= limitUs) newest = Math.max(newest, knownUs(order));
  return newest === -Infinity ? null : newest;
}

const PAGE_ROWS = 1_000;

/** Files that could not be read, then set-aside rows of live imports, in the order of their files, a page at a time. */
export async function* setAsideOf(
  connection: Connection,
  importId?: number,
): AsyncGenerator<SetAside & { file: string }> {
  const { db } = connection;
  if (importId === undefined) yield* unreadableRows(connection);
  const { importId: rowImport, seq, ...columns } = getTableColumns(setAsideRows);
  const live = db
    .select({ importId: imports.importId, file: sql<string>`min(${importFiles.file})` })
    .from(imports)
    .innerJoin(importFiles, eq(importFiles.importId, imports.importId))
    .where(and(eq(imports.state, 'live'), importId === undefined ? undefined : eq(imports.importId, importId)))
    .groupBy(imports.importId)
    .orderBy(sql`min(${importFiles.file})`, asc(imports.importId))
    .all();
  for (const { importId: id, file } of live) {
    for (let after = -1; ;) {
      const page = db
        .select({ seq, ...columns })
        .from(setAsideRows)
        .where(and(eq(rowImport, id), gt(seq, after)))
        .orderBy(asc(seq))
        .limit(PAGE_ROWS)
        .all();
      for (const { seq: _, ...row } of page) yield { file, ...row };
      const last = page.at(-1);
      if (last === undefined || page.length < PAGE_ROWS) break;
      after = last.seq;
    }
  }
}
