import {
  LOCKED_OUT,
  NO_START,
  SPEAKS_OF_CHARGING,
  SPEAKS_OF_FLAT,
  SPEAKS_OF_FUEL,
  SPEAKS_OF_OTHER_CHARGES,
  SPEAKS_OF_STARTING,
} from './vocabulary.ts';

/** What the whole record is about: a part that bears no name is that of the start, or of the charging. */
export type Topics = { starting: boolean; charging: boolean; solenoid: boolean; flat: boolean; noStart: boolean };
export const NO_TOPIC: Topics = { starting: false, charging: false, solenoid: false, flat: false, noStart: false };

export function topicsOf(clauses: readonly string[]): Topics {
  const noStart = clauses.some((clause) => NO_START.test(clause) || LOCKED_OUT.test(clause));
  const speaks = (of: RegExp) => clauses.some((clause) => of.test(clause));
  const starting = noStart || speaks(SPEAKS_OF_STARTING);
  const names = (stem: string) => clauses.some((clause) => clause.includes(stem));
  const solenoid = starting && names('solenoid') && !speaks(SPEAKS_OF_FUEL);
  const flat = names('charge') && speaks(SPEAKS_OF_FLAT) && !speaks(SPEAKS_OF_OTHER_CHARGES);
  return { noStart, starting, solenoid, flat, charging: speaks(SPEAKS_OF_CHARGING) };
}
