import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import { openBytes } from '../bytes/byte-stream.ts';
import { columnName, type ColumnTable, type TableBatch, type TableColumn } from '../columns/column-table.ts';
import { containerReader, type Container } from '../columns/container-reader.ts';
import type { FileShape, Reader } from '../reader.ts';
import { readWorkbook, type Sheet } from './workbook.ts';

const ZIP = Buffer.from('PK\u0003\u0004', 'latin1');
/** A title or two may stand above the header. Program. */
const HEADER_WITHIN_ROWS = 20;
const BATCH_ROWS = 1_000;

/** A spreadsheet: the first sheet with a header of a known kind. The lines of what is set aside are rows of the sheet. */
export const xlsxShape: FileShape = {
  name: 'xlsx',
  recognises: ({ bytes }) =>
    ZIP.equals(bytes.subarray(0, ZIP.length)) && /\[Content_Types\]\.xml|xl\/|_rels\//.test(latin1(bytes)),
  async readerOf({ path }, { profile = null } = {}) {
    const found = findTable(await readWorkbook(openBytes(path), path), { path, profile });
    if ('unrecognised' in found) return found;
    const { kind } = found.reader;
    if (kind === 'waveform' || kind === 'cranks')
      return { unrecognised: `spreadsheet requires registers or records, got ${kind}: save it as CSV or Parquet` };
    return { reader: found.reader };
  },
};

const latin1 = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');

type Reading = { path: string; profile: ImportProfile | null };
type Found = { reader: Reader; place: Place };
type Place = { sheet: Sheet; headerAt: number };

/** The first sheet that has a header of a known kind near its top; else why none. */
function findTable(sheets: readonly Sheet[], { path, profile }: Reading): Found | { unrecognised: string } {
  let reason: string | null = null;
  for (const sheet of sheets)
    for (const [headerAt, row] of sheet.rows.slice(0, HEADER_WITHIN_ROWS).entries()) {
      const columns = row.map(columnName).filter((name) => name !== '');
      if (columns.length === 0) continue;
      const container = workbookContainer({ path, profile });
      const sniffed = containerReader(container, { path, columns }, profile);
      if ('reader' in sniffed)
        return { reader: withSheetNote(sniffed.reader, sheets, sheet), place: { sheet, headerAt } };
      reason ??= `${sniffed.unrecognised} (sheet ${sheet.name}, row ${headerAt + 1})`;
    }
  return { unrecognised: reason ?? 'file requires a header row, got an empty spreadsheet' };
}

function workbookContainer(reading: Reading): Container {
  return {
    name: 'xlsx',
    version: 1,
    async open({ path, bytes }, use) {
      const found = findTable(await readWorkbook(bytes, path), reading);
      if ('unrecognised' in found) throw new UnreadableFile(found.unrecognised);
      return use(tableOf(found.place));
    },
  };
}

/** Of several sheets, which one is read. */
function withSheetNote(reader: Reader, sheets: readonly Sheet[], read: Sheet): Reader {
  const others = sheets.filter((sheet) => sheet !== read && sheet.rows.length > 0).map(({ name }) => name);
  if (others.length === 0) return reader;
  const note = `sheet ${read.name} is read; not read: ${others.join(', ')}`;
  return {
    ...reader,
    async read(file, sink, options) {
      const report = await reader.read(file, sink, options);
      return { ...report, notes: [note, ...report.notes] };
    },
  };
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
