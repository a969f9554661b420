import type { ImportProfile } from '../../model/import-profile.ts';
import { guessLayout } from './guess-layout.ts';
import { TableGuess } from './guess-table.ts';
import type { GuessedProfile } from '../profile/guessed-profile.ts';
import { FROM_START } from '../profile/time-format.ts';
import { tableReaderOf } from '../table-of.ts';

/** A guess of the profile that reads a foreign table; null where the text has no words above values. */
export function guessProfile(start: Uint8Array, name: string): GuessedProfile | null {
  if (start.includes(0)) return null;
  if (isUtf8(start)) return guessFromText(start, name);
  const guess = guessFromText(Buffer.from(new TextDecoder('windows-1252').decode(start)), name);
  if (guess === null) return null;
  const question = 'encoding: is it windows-1252? Its bytes are no UTF-8';
  return {
    profile: { ...guess.profile, encoding: 'windows-1252' },
    certain: false,
    questions: [question, ...guess.questions],
  };
}

/** A character cut off at the end of the beginning is none that is wrong. */
function isUtf8(start: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true });
    return true;
  } catch {
    return false;
  }
}

function guessFromText(start: Uint8Array, name: string): GuessedProfile | null {
  const layout = guessLayout(start);
  if (layout === null) return null;
  const guess = new TableGuess(layout);
  const { questions } = guess;
  const profile: ImportProfile = {
    name,
    ...(layout.delimiter === ',' ? {} : { delimiter: layout.delimiter }),
    ...(layout.decimalMark === '.' ? {} : { decimalMark: layout.decimalMark }),
    ...(layout.groupMark === null ? {} : { groupMark: layout.groupMark }),
    ...guess.missing(),
    ...guess.header(),
    columns: guess.columns(),
  };
  Object.assign(profile, guess.time(profile.columns!), guess.unit());
  questions.push(...kindQuestions(profile));
  return { profile, certain: questions.length === 0, questions: [...new Set(questions)] };
}

/** The unit is asked for on its own; a counted time has no column. */
function kindQuestions({ columns = {}, time }: ImportProfile): string[] {
  const times = time !== undefined && FROM_START.includes(time.format) ? ['time'] : [];
  const found = tableReaderOf([...new Set([...Object.values(columns).map(({ field }) => field), ...times, 'unit'])]);
  return 'unrecognised' in found ? [`columns: ${found.unrecognised.replace(/^file requires/, 'which are')}`] : [];
}
