import type { Database } from 'better-sqlite3';
import { and, eq } from 'drizzle-orm';
import type { Engine } from '../model/unit.ts';
import type { Connection } from './connection.ts';
import { prepared } from './prepared.ts';
import { engines, importEngines, imports } from './schema/loaded.ts';

type Numbers = Map<string, Map<string, number>>;
/** Numbers that were found in the store, by connection: an engine's number never changes, and it never goes. */
const found = new WeakMap<Database, Numbers>();

/** Gives the number of an engine, a new one where it has none yet. For use inside one writer's transactions. */
export function engineNumbering({ sqlite }: Connection): (unit: string, position: string) => number {
  const standing: Numbers = found.get(sqlite) ?? new Map<string, Map<string, number>>();
  found.set(sqlite, standing);
  // Apart, since what is added here goes if the transaction fails.
  const added: Numbers = new Map();
  const find = prepared(sqlite, 'select engine_id from engines where unit = ? and position = ?').pluck();
  const add = prepared(sqlite, 'insert into engines (unit, position) values (?, ?)');
  return (unit, position) => {
    const known = standing.get(unit)?.get(position) ?? added.get(unit)?.get(position);
    if (known !== undefined) return known;
    const there = find.get(unit, position) as number | undefined;
    const engineId = there ?? Number(add.run(unit, position).lastInsertRowid);
    remember(there === undefined ? added : standing, { unit, position, engineId });
    return engineId;
  };
}

function remember(numbers: Numbers, { unit, position, engineId }: Engine): void {
  const positions = numbers.get(unit);
  if (positions) positions.set(position, engineId);
  else numbers.set(unit, new Map([[position, engineId]]));
}

const visible = ({ db }: Connection) =>
  db
    .selectDistinct({ engineId: engines.engineId, unit: engines.unit, position: engines.position })
    .from(engines)
    .innerJoin(importEngines, eq(importEngines.engineId, engines.engineId))
    .innerJoin(imports, and(eq(imports.importId, importEngines.importId), eq(imports.state, 'live')));

/** Engines of which cranks are loaded, by unit and position. */
export function liveEngines(connection: Connection): Engine[] {
  return visible(connection).orderBy(engines.unit, engines.position).all();
}

export function liveEngine(connection: Connection, unit: string, position: string): Engine | null {
  const isIt = and(eq(engines.unit, unit), eq(engines.position, position));
  return visible(connection).where(isIt).get() ?? null;
}
