import { basename } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import { counted } from '../../model/counted.ts';
import type { ColumnTable } from '../columns/column-table.ts';
import type { GuessedProfile } from '../profile/guessed-profile.ts';
import type { Sniffed } from '../reader.ts';
import { guessProfile } from './guess-profile.ts';

/** Fewer columns that seem to be of a kind say nothing. */
const LEAST_COLUMNS = 2;
/** As many rows as a guess looks at in a text, and no more of a long cell than shows what it is. */
const MOST_ROWS = 400;
const MOST_CHARACTERS = 200;

export const guessNamed = (path: string) => `guessed for ${basename(path)}`;

/** What a profile could make of a file that is of no kind is told, never done. */
export function withGuess(unrecognised: string, guess: GuessedProfile | null): Sniffed {
  const columns = Object.entries(guess?.profile.columns ?? {}).map(([name, { field }]) => `${name} as ${field}`);
  if (guess === null || columns.length < LEAST_COLUMNS) return { unrecognised };
  const open = guess.questions.length === 0 ? '' : `, ${counted(guess.questions.length, 'question')} open`;
  const seems = `it seems to have ${columns.join(', ')}${open}: load --dry-run shows how a profile would read it`;
  return { unrecognised: `${unrecognised}; ${seems}`, guess };
}

/**
 * A guess for a table that is not stored as text: from what its first rows would be as text. How a text is laid out is no
 * part of it.
 */
export function guessOfRows(rows: readonly (readonly string[])[], path: string): GuessedProfile | null {
  const beginning = rows.slice(0, MOST_ROWS + 1).map((row) => row.map((cell) => cell.slice(0, MOST_CHARACTERS)));
  const guess = guessProfile(Buffer.from(stringify(beginning)), guessNamed(path));
  if (guess === null) return null;
  const { delimiter: _, header: __, ...profile } = guess.profile;
  return { ...guess, profile };
}

/** The same for a table that is read column by column. */
export async function guessOfTable(table: ColumnTable, path: string): Promise<GuessedProfile | null> {
  const rows: string[][] = [[...table.columns]];
  for await (const { count, columns } of table.batches(new Map(table.columns.map((each) => [each, 'text'])))) {
    for (let row = 0; row < count && rows.length <= MOST_ROWS; row++) {
      const cells = columns.map((column) => column.text(row));
      rows.push(cells.map((cell) => (typeof cell === 'string' ? cell : '')));
    }
    if (rows.length > MOST_ROWS) break;
  }
  return guessOfRows(rows, path);
}
