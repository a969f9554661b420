import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import { delimitedReader } from '../foreign/delimited-reader.ts';
import { guessProfile } from '../guess/guess-profile.ts';
import { guessNamed, withGuess } from '../guess/with-guess.ts';
import { headerFields } from './header.ts';
import type { GuessedProfile } from '../profile/guessed-profile.ts';
import { notedReader } from '../profile/noted-reader.ts';
import type { FileShape, FileStart, Reader, Sniffed, TableReader } from '../reader.ts';
import { readerMadeBy, tableReaderOf } from '../table-of.ts';
import { utf8Text } from '../bytes/utf-16.ts';

/**
 * Text with a header row (RFC 4180): its kind is told by its columns, never by its name. A profile reads the files that
 * it fits; the others in the same folder are read by their own columns.
 */
export const csvShape: FileShape = {
  name: 'csv',
  recognises: () => true,
  async readerOf(start, { profile = null } = {}) {
    if (start.bytes.length === 0) return { unrecognised: 'file requires a header row, got an empty file' };
    const foreign = profile === null ? null : byProfile(start, profile);
    if (foreign !== null && 'reader' in foreign) return foreign;
    const own = ownReader(start);
    if (foreign === null)
      return 'unrecognised' in own
        ? withGuess(own.unrecognised, guessProfile(start.bytes, guessNamed(start.path)))
        : own;
    return 'unrecognised' in own ? foreign : { reader: notedReader(own.reader) };
  },
};

function byProfile(start: FileStart, profile: ImportProfile): Sniffed {
  try {
    return delimitedReader(start, profile);
  } catch (error) {
    if (error instanceof UnreadableFile) return { unrecognised: error.message };
    throw error;
  }
}

/** The reader of a file with the contract's columns. */
function ownReader(start: FileStart): Sniffed {
  const header = firstLine(start);
  if (header.length === 0) return { unrecognised: 'file requires a header row, got an empty line' };
  const fault = notText(header);
  if (fault !== null) return { unrecognised: fault };
  const columns = headerFields(header);
  const table = tableReaderOf(columns);
  if ('unrecognised' in table) return { unrecognised: otherDelimiter(header) ?? table.unrecognised };
  return { reader: csvReader(table, start) };
}

function csvReader(table: TableReader, start: FileStart): Reader {
  const { name, kind, version } = table;
  const guess = () => guessProfile(start.bytes, guessNamed(start.path));
  return {
    name,
    kind,
    version,
    guess,
    async read({ bytes }, sink, options) {
      const report = await table.read(utf8Text(bytes), sink, options);
      const helps = report.setAside > report.taken && saysMore(guess());
      return helps ? { ...report, notes: [...report.notes, MOSTLY_SET_ASIDE] } : report;
    },
  };
}

const MOSTLY_SET_ASIDE = 'most rows cannot be used as they stand: load --dry-run shows how a profile would read them';

/** Whether a profile says more than the contract's columns by their names. */
function saysMore(guess: GuessedProfile | null): boolean {
  if (guess === null) return false;
  const { decimalMark, missingMarks, header, time } = guess.profile;
  const parts = [decimalMark, missingMarks, header].some((part) => part !== undefined);
  return parts || !guess.certain || (time?.format ?? 'iso') !== 'iso';
}

function firstLine({ bytes }: FileStart): Uint8Array {
  const newline = bytes.indexOf(10);
  return newline < 0 ? bytes : bytes.subarray(0, newline);
}

function notText(start: Uint8Array): string | null {
  if (start[0] === 0x50 && start[1] === 0x4b)
    return 'file requires a table as text, got a ZIP archive or spreadsheet: unpack it, or save it as CSV';
  if (start.includes(0)) return 'file requires a table as text, got binary data';
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true });
  } catch {
    return 'file requires UTF-8 text, got other bytes: save it as CSV UTF-8';
  }
  return null;
}

const DELIMITERS: [string, string][] = [
  [';', 'semicolons'],
  ['\t', 'tabs'],
  ['|', 'bars'],
];

function otherDelimiter(start: Uint8Array): string | null {
  const header = Buffer.from(start.subarray(0, 4096)).toString('utf8').toLowerCase();
  for (const [mark, name] of DELIMITERS) {
    const split = header.split(mark).map((column) => column.replace(/[\uFEFF"\r]/g, '').trim());
    if (readerMadeBy(split) !== undefined) return `file requires commas between columns, got ${name}`;
  }
  return null;
}
