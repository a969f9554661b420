import { UnreadableFile } from '../../model/set-aside.ts';
import { plainDecimal } from '../columns/column-table.ts';
import { zipEntries } from './zip-entries.ts';
import type { ByteStream } from '../reader.ts';

/** A workbook is held in memory as a whole. Registers and records of a fleet have some MB. Program. */
const LIMITS = { bytes: 32 * 2 ** 20, unzippedBytes: 128 * 2 ** 20 };
/** Cells from the first to the last row and column, empty ones included: each takes memory. Program. */
const MOST_CELLS = 4_000_000;

/** Cells as a CSV file would have them; row 1 of the sheet is the first, empty rows included. */
export type Sheet = { name: string; rows: string[][] };

/** A number as it is written in the file. */
class WrittenNumber {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** All sheets of a workbook. Throws UnreadableFile for one that cannot be read, or not in bounded memory. */
export async function readWorkbook(bytes: ByteStream, where: string): Promise<Sheet[]> {
  const archive = await gathered(bytes, where);
  for (const { name, content } of zipEntries(archive, where, LIMITS)) {
    const xml = content();
    if (/^xl\/worksheets\/[^/]+\.xml$/i.test(name)) requireFewCells(xml.toString('latin1'), where);
  }
  try {
    // Not the package's entry for Node: that reads the archive from front to back and waits for ever where a header lies.
    const { default: readXlsx } = await import('read-excel-file/universal');
    const parseNumber = (text: string) => new WrittenNumber(text);
    const sheets = await readXlsx<WrittenNumber>(Uint8Array.from(archive).buffer, { trim: false, parseNumber });
    return sheets.map(({ sheet, data }) => ({ name: sheet, rows: data.map((row) => row.map(textOf)) }));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UnreadableFile(`spreadsheet requires a workbook (.xlsx), got ${why} (${where})`, { cause: error });
  }
}

async function gathered(bytes: ByteStream, where: string): Promise<Buffer> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of bytes) {
    length += chunk.length;
    if (length <= LIMITS.bytes) chunks.push(Uint8Array.from(chunk));
  }
  if (length <= LIMITS.bytes) return Buffer.concat(chunks);
  throw new UnreadableFile(
    `spreadsheet requires at most ${LIMITS.bytes} bytes, got ${length}: save it as CSV (${where})`,
  );
}

/** One cell far away from the others makes a sheet of all the empty cells between. */
function requireFewCells(xml: string, where: string): void {
  let [rows, columns, cells] = [0, 0, 0];
  for (const [, letters = '', row = ''] of xml.matchAll(/<c\b[^>]*?\br="([A-Za-z]+)(\d+)"/g)) {
    columns = Math.max(columns, columnNumber(letters));
    rows = Math.max(rows, Number(row));
    cells++;
  }
  const area = Math.max(rows * columns, cells);
  if (area > MOST_CELLS)
    throw new UnreadableFile(
      `spreadsheet requires sheets of at most ${MOST_CELLS} cells, got ${rows} rows by ${columns} columns: save it as CSV (${where})`,
    );
}

/** A → 1, Z → 26, AA → 27. */
function columnNumber(letters: string): number {
  return Buffer.from(letters.toUpperCase()).reduce((number, letter) => number * 26 + letter - 64, 0);
}

/** The package's own types call a date by its class. */
function textOf(cell: unknown): string {
  if (typeof cell === 'boolean') return cell ? '1' : '0';
  if (cell instanceof WrittenNumber) return /^-?\d+$/.test(cell.text) ? cell.text : plainDecimal(Number(cell.text));
  if (cell instanceof Date) return dateText(cell);
  return typeof cell === 'string' ? cell : '';
}

/**
 * A spreadsheet knows no zone: a day alone, a time without zone, or (before 1900) a time of day. It counts in fractions
 * of a day, so that a full second may come out a millisecond early.
 */
function dateText(date: Date): string {
  const seconds = Math.round(date.getTime() / 1000);
  const ms = Math.abs(date.getTime() - seconds * 1000) <= 2 ? seconds * 1000 : date.getTime();
  if (Number.isNaN(ms)) return '';
  const iso = new Date(ms).toISOString().replace(/(\.000)?Z$/, '');
  if (ms < Date.UTC(1900, 0, 1)) return iso.slice(iso.indexOf('T') + 1);
  return iso.endsWith('T00:00:00') ? iso.slice(0, -'T00:00:00'.length) : iso;
}
