import type { ImportProfile } from '../../model/import-profile.ts';
import { openBytes } from '../bytes/byte-stream.ts';
import { columnName, type ColumnTable, type TableBatch, type TableColumn } from '../columns/column-table.ts';
import { containerReader, type Container } from '../columns/container-reader.ts';
import { guessOfRows, withGuess } from '../guess/with-guess.ts';
import type { GuessedProfile } from '../profile/guessed-profile.ts';
import type { FileShape, Reader } from '../reader.ts';
import { sheetsReader, type SheetReader, type UnreadSheet } from './sheets-reader.ts';
import { readWorkbook, type Sheet } from './workbook.ts';

const ZIP = Buffer.from('PK\u0003\u0004', 'latin1');
/** A title or two may stand above the header. Program. */
const HEADER_WITHIN_ROWS = 20;
const BATCH_ROWS = 1_000;

/** A spreadsheet: every sheet with a header of a known kind. The lines of what is set aside are rows of the sheet. */
export const xlsxShape: FileShape = {
  name: 'xlsx',
  recognises: ({ bytes }) =>
    ZIP.equals(bytes.subarray(0, ZIP.length)) && /\[Content_Types\]\.xml|xl\/|_rels\//.test(latin1(bytes)),
  async readerOf({ path }, { profile = null } = {}) {
    const look = (sheets: readonly Sheet[]) => sheets.map((sheet) => lookedAt(sheet, { path, profile }));
    const sheets = await readWorkbook(openBytes(path), path);
    const seen = look(sheets);
    const read = seen.filter((each) => 'reader' in each);
    if (read.length === 0) {
      const why = whyNone(seen.filter((each) => 'reason' in each));
      return profile === null ? withGuess(why, guessOfSheets(sheets, path)) : { unrecognised: why };
    }
    return { reader: sheetsReader(read, async (file) => look(await readWorkbook(file.bytes, file.path))) };
  },
};

const latin1 = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');

/** A sheet that holds a log says best why nothing can be read, then the first one with any row. */
function whyNone(unread: readonly UnreadSheet[]): string {
  const why = unread.find(({ isLog }) => isLog) ?? unread.find(({ isEmpty }) => !isEmpty);
  return why?.reason ?? 'file requires a header row, got an empty spreadsheet';
}

/** Of the sheet that leaves least open. */
function guessOfSheets(sheets: readonly Sheet[], path: string): GuessedProfile | null {
  const guesses = sheets.map(({ rows }) => guessOfRows(rows, path)).filter((guess) => guess !== null);
  return guesses.toSorted((a, b) => a.questions.length - b.questions.length)[0] ?? null;
}

type Reading = { path: string; profile: ImportProfile | null };
type Place = { sheet: Sheet; headerAt: number };

/** The reader of a sheet that has a header of a known kind near its top; else why there is none. */
function lookedAt(sheet: Sheet, reading: Reading): SheetReader | UnreadSheet {
  const unread = { name: sheet.name, isLog: false, isEmpty: true, reason: 'sheet requires a header row, got none' };
  for (const [headerAt, row] of sheet.rows.slice(0, HEADER_WITHIN_ROWS).entries()) {
    const columns = row.map(columnName).filter((name) => name !== '');
    if (columns.length === 0) continue;
    const found = readerOf({ sheet, headerAt }, columns, reading);
    if ('reader' in found) return recordsOnly(sheet.name, found.reader);
    if (unread.isEmpty) unread.reason = `${found.unrecognised} (sheet ${sheet.name}, row ${headerAt + 1})`;
    unread.isEmpty = false;
  }
  return unread;
}

function readerOf(place: Place, columns: readonly string[], { path, profile }: Reading) {
  const container = { name: 'xlsx', version: 2, open: async (_, use) => use(tableOf(place)) } satisfies Container;
  return containerReader(container, { path, columns }, profile);
}

function recordsOnly(name: string, reader: Reader): SheetReader | UnreadSheet {
  const { kind } = reader;
  if (kind !== 'waveform' && kind !== 'cranks') return { name, reader };
  const reason = `spreadsheet requires registers or records, got ${kind}: save it as CSV or Parquet (sheet ${name})`;
  return { name, isLog: true, isEmpty: false, reason };
}

/** The rows under the header; blank ones are none. Columns without a name are not read. */
function tableOf({ sheet, headerAt }: Place): ColumnTable {
  const names = sheet.rows[headerAt]!.map(columnName);
  const filled = sheet.rows
    .map((cells, index) => ({ cells, line: index + 1 }))
    .slice(headerAt + 1)
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));

  async function* batches(wanted: ReadonlyMap<string, unknown>): AsyncIterable<TableBatch> {
    const places = [...wanted.keys()].map((name) => names.indexOf(name));
    for (let from = 0; from < filled.length; from += BATCH_ROWS) {
      const rows = filled.slice(from, from + BATCH_ROWS);
      const columns = places.map((place): TableColumn => {
        const text = (row: number) => rows[row]!.cells[place] ?? '';
        return { text, numbers: null, instants: null, repeats: () => false };
      });
      yield { count: rows.length, lines: Float64Array.from(rows, ({ line }) => line), columns, setAside: [] };
    }
  }
  return { columns: names.filter((name) => name !== ''), others: [], batches };
}
