import { and, eq } from 'drizzle-orm';
import type { Engine } from '../model/unit.ts';
import type { Connection } from './connection.ts';
import { engines, importEngines, imports } from './schema/loaded.ts';

/** Gives the number of an engine, a new one where it has none yet. For use inside one writer's transactions. */
export function engineNumbering({ sqlite }: Connection): (unit: string, position: string) => number {
  const known = new Map<string, Map<string, number>>();
  const find = sqlite
    .prepare<[string, string], number>('select engine_id from engines where unit = ? and position = ?')
    .pluck();
  const add = sqlite.prepare<[string, string]>('insert into engines (unit, position) values (?, ?)');
  return (unit, position) => {
    let positions = known.get(unit);
    if (!positions) known.set(unit, (positions = new Map()));
    const standing = positions.get(position);
    if (standing !== undefined) return standing;
    const engineId = find.get(unit, position) ?? Number(add.run(unit, position).lastInsertRowid);
    positions.set(position, engineId);
    return engineId;
  };
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
