import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { dayOfDate } from '../calendar.ts';

/** What truly happened to every part of a fleet, and how likely it truly was. */
export type TrueLife = {
  unit: string;
  position: string;
  component: string;
  fittedDay: number;
  removedDay: number;
  end: string;
  cause: string;
  recorded: boolean;
};
export type Truth = {
  lives: readonly TrueLife[];
  /** By place and day; null where the simulator does not say. */
  chance: (place: Place, day: number) => TrueChance | null;
};
/** Of failing within 90 days: all known, and all but the specimen's own limit. */
export type TrueChance = { perfect: number; worn: number };
export type Place = { unit: string; position: string; component: string };

export function placeKey({ unit, position, component }: Place): string {
  return `${unit}/${position}/${component}`;
}

export function readTruth(folder: string): Truth {
  const chances = new Map(
    rowsOf(folder, 'true-chances.csv').map((row) => [
      `${placeKey(row as unknown as Place)}/${dayOfDate(row['date']!)}`,
      { perfect: Number(row['p90']), worn: Number(row['worn90']) },
    ]),
  );
  return {
    lives: trueLives(folder),
    chance: (place, day) => chances.get(`${placeKey(place)}/${day}`) ?? null,
  };
}

export function trueLives(folder: string): TrueLife[] {
  return rowsOf(folder, 'true-lives.csv').map((row) => ({
    unit: row['unit']!,
    position: row['position']!,
    component: row['component']!,
    fittedDay: dayOfDate(row['fitted']!),
    removedDay: row['removed'] === '' ? Infinity : dayOfDate(row['removed']!),
    end: row['end']!,
    cause: row['cause']!,
    recorded: row['recorded'] === '1',
  }));
}

export function rowsOf(folder: string, name: string): Record<string, string>[] {
  const path = join(folder, name);
  if (!existsSync(path)) return [];
  return parse<Record<string, string>>(readFileSync(path), { columns: true });
}

/** The part that truly stood there at the end of a day. */
export function lifeOn(lives: readonly TrueLife[], day: number): TrueLife | null {
  return lives.find(({ fittedDay, removedDay }) => fittedDay <= day && removedDay > day) ?? null;
}
