/**
 * Rows keep the spelling of their file. Which unit that is, is looked up when they are read: so an alias may come before
 * or after the files, and taking it back leaves everything as it was.
 */
import { inArray, type SQL } from 'drizzle-orm';
import type { SQLiteColumn } from 'drizzle-orm/sqlite-core';
import { spellingGroups, type UnitAlias, type UnitSpellings } from '../model/unit-alias.ts';
import type { Connection } from './connection.ts';
import { isLiveOne } from './live-one.ts';
import { prepared } from './prepared.ts';

type Pair = Pick<UnitAlias, 'spelling' | 'unit'>;

/** How rows of a unit (undefined: of all) are found, whatever their spelling, and what their unit is called. */
export type UnitNames = {
  isOf: (column: SQLiteColumn) => SQL | undefined;
  nameOf: (spelling: string) => string;
};

export function unitNames(connection: Connection, unit?: string): UnitNames {
  if (unit !== undefined) {
    const { unit: name, spellings } = unitSpellings(connection, unit);
    return { isOf: (column) => inArray(column, [...spellings]), nameOf: () => name };
  }
  const names = new Map(
    allSpellings(connection).flatMap(({ unit: name, spellings }) => spellings.map((each) => [each, name] as const)),
  );
  return { isOf: () => undefined, nameOf: (spelling) => names.get(spelling) ?? spelling };
}

const STANDING = 'select spelling, unit from unit_aliases where withdrawn_us is null';

/** Most fleets have none, and a load asks of every engine and file which ones concern it. */
export function isAnyAlias({ sqlite }: Connection): boolean {
  return prepared(sqlite, `select exists (${STANDING})`).pluck().get() === 1;
}

/** Units with more than one spelling. */
export function allSpellings(connection: Connection): UnitSpellings[] {
  const pairs = prepared(connection.sqlite, STANDING).all() as Pair[];
  return pairs.length === 0 ? [] : spellingGroups(pairs, registeredIn(connection));
}

/** The unit that one spelling is, with all its spellings; most have one. */
export function unitSpellings(connection: Connection, spelling: string): UnitSpellings {
  if (!isAnyAlias(connection)) return { unit: spelling, spellings: [spelling] };
  const pairs = prepared(
    connection.sqlite,
    `with recursive
       standing as (${STANDING}),
       one (name) as (
         select ?
         union
         select case when s.spelling = name then s.unit else s.spelling end
           from one join standing as s on s.spelling = name or s.unit = name)
     select spelling, unit from standing where spelling in (select name from one)`,
  ).all(spelling) as Pair[];
  const [group] = pairs.length === 0 ? [] : spellingGroups(pairs, registeredIn(connection));
  return group ?? { unit: spelling, spellings: [spelling] };
}

/** Whether a spelling stands in the register as it is written. */
export function registeredIn({ sqlite }: Connection): (spelling: string) => boolean {
  const found = prepared(
    sqlite,
    `select exists (select 1 from unit_rows where unit = ? and ${isLiveOne('unit_rows')})`,
  ).pluck();
  return (spelling) => found.get(spelling) === 1;
}
