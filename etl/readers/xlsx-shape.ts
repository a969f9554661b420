import { openBytes } from './byte-stream.ts';
import { columnName, type ColumnTable, type TableBatch, type TableColumn } from './column-table.ts';
import type { FileShape, Reader, TableReader } from './reader.ts';
import { tableReaderOf } from './table-of.ts';
import { readWorkbook, type Sheet } from './workbook.ts';

/** Raised when the same bytes would be read differently. */
const VERSION = 1;
const ZIP = Buffer.from('PK\u0003\u0004', 'latin1');
/** A title or two may stand above the header. Program. */
const HEADER_WITHIN_ROWS = 20;
const BATCH_ROWS = 1_000;

/** A spreadsheet: the first sheet with a header of a known kind. The lines of what is set aside are rows of the sheet. */
export const xlsxShape: FileShape = {
  name: 'xlsx',
  recognises: ({ bytes }) =>
    ZIP.equals(bytes.subarray(0, ZIP.length)) && /\[Content_Types\]\.xml|xl\/|_rels\//.test(latin1(bytes)),
  async readerOf({ path }) {
    const found = findTable(await readWorkbook(openBytes(path), path));
    if ('unrecognised' in found) return found;
    const { kind } = found.table;
    if (kind === 'waveform' || kind === 'cranks')
      return { unrecognised: `spreadsheet requires registers or records, got ${kind}: save it as CSV or Parquet` };
    return { reader: xlsxReader(found.table) };
  },
};

const latin1 = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');

type Found = { table: TableReader; sheet: Sheet; headerAt: number };

/** The first sheet that has a header of a known kind near its top; else why none. */
function findTable(sheets: readonly Sheet[]): Found | { unrecognised: string } {
  let reason: string | null = null;
  for (const sheet of sheets)
    for (const [headerAt, row] of sheet.rows.slice(0, HEADER_WITHIN_ROWS).entries()) {
      const columns = row.map(columnName).filter((name) => name !== '');
      if (columns.length === 0) continue;
      const table = tableReaderOf(columns);
      if (!('unrecognised' in table)) return { table, sheet, headerAt };
      reason ??= `${table.unrecognised} (sheet ${sheet.name}, row ${headerAt + 1})`;
    }
  return { unrecognised: reason ?? 'file requires a header row, got an empty spreadsheet' };
}

function xlsxReader(table: TableReader): Reader {
  const { kind } = table;
  return {
    name: `${kind}-xlsx`,
    kind,
    version: table.version + VERSION,
    async read({ path, bytes }, sink, options) {
      const sheets = await readWorkbook(bytes, path);
      const found = findTable(sheets);
      if ('unrecognised' in found) return table.readTable(EMPTY, sink, options);
      const report = await table.readTable(tableOf(found), sink, options);
      const others = sheets.filter(({ name, rows }) => name !== found.sheet.name && rows.length > 0);
      const names = others.map(({ name }) => name).join(', ');
      const note = `sheet ${found.sheet.name} is read${names === '' ? '' : `; not read: ${names}`}`;
      return sheets.length === 1 ? report : { ...report, notes: [note, ...report.notes] };
    },
  };
}

const EMPTY: ColumnTable = { columns: [], others: [], batches: async function* () {} };

/** The rows under the header; blank ones are none. Columns without a name are not read. */
function tableOf({ sheet, headerAt }: Found): ColumnTable {
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
