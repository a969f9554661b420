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
  /** By place and day; absent where the simulator cannot say. */
  chance: (place: Place, day: number) => number | null;
};
export type Place = { unit: string; position: string; component: string };

export function placeKey({ unit, position, component }: Place): string {
  return `${unit}/${position}/${component}`;
}

export function readTruth(folder: string): Truth {
  const lives = rowsOf(folder, 'true-lives.csv').map((row) => ({
    unit: row['unit']!,
    position: row['position']!,
    component: row['component']!,
    fittedDay: dayOfDate(row['fitted']!),
    removedDay: row['removed'] === '' ? Infinity : dayOfDate(row['removed']!),
    end: row['end']!,
    cause: row['cause']!,
    recorded: row['recorded'] === '1',
  }));
  const chances = new Map(
    rowsOf(folder, 'true-chances.csv').map((row) => [
      `${placeKey(row as unknown as Place)}/${dayOfDate(row['date']!)}`,
      Number(row['p90']),
    ]),
  );
  return { lives, chance: (place, day) => chances.get(`${placeKey(place)}/${day}`) ?? null };
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
