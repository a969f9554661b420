import type { Database } from 'better-sqlite3';
import { and, eq, inArray } from 'drizzle-orm';
import type { Engine } from '../model/unit.ts';
import type { UnitSpellings } from '../model/unit-alias.ts';
import type { Connection } from './connection.ts';
import { byText } from './later-known.ts';
import { prepared } from './prepared.ts';
import { engines, importEngines, imports } from './schema/loaded.ts';
import { allSpellings, unitSpellings } from './unit-names.ts';

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

/** After a transaction that failed: what was found inside of it may have gone with it. */
export function forgetEngines(sqlite: Database): void {
  found.get(sqlite)?.clear();
}

function remember(numbers: Numbers, { unit, position, engineId }: Engine): void {
  const positions = numbers.get(unit);
  if (positions) positions.set(position, engineId);
  else numbers.set(unit, new Map([[position, engineId]]));
}

/** An engine under one of its unit's spellings. */
export type SpelledEngine = { engineId: number; spelling: string };

/**
 * The numbers under which an engine's rows stand: one for each spelling of its unit. The first was given first; finished
 * cranks and stale marks stand under it.
 */
export function spelledEngines(connection: Connection, engineId: number): SpelledEngine[] {
  const own = prepared(connection.sqlite, 'select unit, position from engines where engine_id = ?').get(engineId) as
    Omit<Engine, 'engineId'> | undefined;
  return own === undefined ? [] : enginesAt(connection, unitSpellings(connection, own.unit).spellings, own.position);
}

export function enginesAt({ sqlite }: Connection, spellings: readonly string[], position: string): SpelledEngine[] {
  return prepared(
    sqlite,
    `select engine_id as engineId, unit as spelling from engines
     where unit in (select value from json_each(?)) and position = ? order by engine_id`,
  ).all(JSON.stringify(spellings), position) as SpelledEngine[];
}

/** Positions under which any of the spellings has an engine. */
export function positionsOf({ sqlite }: Connection, spellings: readonly string[]): string[] {
  return prepared(sqlite, 'select distinct position from engines where unit in (select value from json_each(?))')
    .pluck()
    .all(JSON.stringify(spellings)) as string[];
}

const visible = ({ db }: Connection) =>
  db
    .selectDistinct({ engineId: engines.engineId, unit: engines.unit, position: engines.position })
    .from(engines)
    .innerJoin(importEngines, eq(importEngines.engineId, engines.engineId))
    .innerJoin(imports, and(eq(imports.importId, importEngines.importId), eq(imports.state, 'live')));

/** Engines of which cranks are loaded, by unit and position. */
export function liveEngines(connection: Connection): Engine[] {
  const asSpelled = visible(connection).orderBy(engines.unit, engines.position).all();
  const groups = allSpellings(connection);
  if (groups.length === 0) return asSpelled;
  const groupOf = new Map(groups.flatMap((group) => group.spellings.map((each) => [each, group] as const)));
  const found = new Map<number, Engine>();
  for (const engine of asSpelled) {
    const group = groupOf.get(engine.unit);
    const first = group === undefined ? engine : firstOf(connection, group, engine.position);
    found.set(first.engineId, first);
  }
  return [...found.values()].sort((a, b) => byText(a.unit, b.unit) || byText(a.position, b.position));
}

/** The engine as its unit goes by, under the number that counts. */
function firstOf(connection: Connection, { unit, spellings }: UnitSpellings, position: string): Engine {
  return { engineId: enginesAt(connection, spellings, position)[0]!.engineId, unit, position };
}

export function liveEngine(connection: Connection, unit: string, position: string): Engine | null {
  const group = unitSpellings(connection, unit);
  const isIt = and(inArray(engines.unit, [...group.spellings]), eq(engines.position, position));
  return visible(connection).where(isIt).get() === undefined ? null : firstOf(connection, group, position);
}

/** The same of one unit: nothing else is looked at. */
export function liveEnginesOf(connection: Connection, unit: string): Engine[] {
  const positions = positionsOf(connection, unitSpellings(connection, unit).spellings);
  return positions.toSorted().flatMap((position) => liveEngine(connection, unit, position) ?? []);
}
