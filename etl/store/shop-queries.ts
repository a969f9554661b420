import { and } from 'drizzle-orm';
import type { BenchResult } from '../model/bench-result.ts';
import type { Bay, ShopVisit } from '../model/shop.ts';
import type { TroubleCode } from '../model/trouble-code.ts';
import type { Connection } from './connection.ts';
import { bare, byText, laterKnown } from './later-known.ts';
import { isLive } from './loaded-queries.ts';
import { bayRows, benchResultRows, shopVisitRows, troubleCodeRows } from './schema/loaded.ts';
import { unitNames } from './unit-names.ts';

/** Measured values known then, in order of unit and time; of two under one key the later known. */
export function benchResultsKnown(connection: Connection, asOfUs: number, unit?: string): BenchResult[] {
  const names = unitNames(connection, unit);
  const rows = connection.db
    .select()
    .from(benchResultRows)
    .where(and(isLive(benchResultRows.importId), names.isOf(benchResultRows.unit)))
    .all()
    .map((row) => ({ ...row, unit: names.nameOf(row.unit), knownUs: row.enteredUs ?? row.timeUs }))
    .filter((row) => row.knownUs <= asOfUs);
  return laterKnown(rows, (row) => JSON.stringify([row.unit, row.position, row.timeUs, row.test]))
    .map(bare)
    .sort((a, b) => byUnitAndTime(a, b) || byText(a.test, b.test) || byText(a.position, b.position));
}

/** Trouble codes stored by then, each once, in order of unit and time. */
export function troubleCodesKnown(connection: Connection, asOfUs: number, unit?: string): TroubleCode[] {
  const names = unitNames(connection, unit);
  const rows = connection.db
    .select()
    .from(troubleCodeRows)
    .where(and(isLive(troubleCodeRows.importId), names.isOf(troubleCodeRows.unit)))
    .all()
    .map((row) => ({ ...row, unit: names.nameOf(row.unit), knownUs: row.timeUs }))
    .filter((row) => row.knownUs <= asOfUs);
  return laterKnown(rows, (row) => JSON.stringify([row.unit, row.position, row.timeUs, row.code, row.spn, row.fmi]))
    .map(bare)
    .sort((a, b) => byUnitAndTime(a, b) || byCode(a, b) || byText(a.position, b.position));
}

type Timed = { unit: string; timeUs: number };

function byUnitAndTime(a: Timed, b: Timed): number {
  return byText(a.unit, b.unit) || a.timeUs - b.timeUs;
}

function byCode(a: TroubleCode, b: TroubleCode): number {
  return byText(a.code ?? '', b.code ?? '') || (a.spn ?? 0) - (b.spn ?? 0) || (a.fmi ?? 0) - (b.fmi ?? 0);
}

/** Open hours of the bays; of two under one key the greater content hash. */
export function bayHours({ db }: Connection): Bay[] {
  const rows = db
    .select()
    .from(bayRows)
    .where(isLive(bayRows.importId))
    .all()
    .map((row) => ({ ...row, knownUs: 0 }));
  return laterKnown(rows, (row) => JSON.stringify([row.depot, row.bay, row.weekday]))
    .map(bare)
    .sort((a, b) => byText(a.depot, b.depot) || byText(a.bay, b.bay) || a.weekday - b.weekday);
}

/** Planned visits, in order of unit and day. */
export function plannedVisits(connection: Connection, unit?: string): ShopVisit[] {
  const names = unitNames(connection, unit);
  const rows = connection.db
    .select()
    .from(shopVisitRows)
    .where(and(isLive(shopVisitRows.importId), names.isOf(shopVisitRows.unit)))
    .all()
    .map((row) => ({ ...row, unit: names.nameOf(row.unit), knownUs: 0 }));
  return laterKnown(rows, (row) => JSON.stringify([row.unit, row.visitOn]))
    .map(bare)
    .sort((a, b) => byText(a.unit, b.unit) || byText(a.visitOn, b.visitOn));
}
