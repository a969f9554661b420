import { DELIMITERS } from '../../model/delimiters.ts';
import { isUnitOfMeasure } from './guess-unit-of-measure.ts';
import { guessDecimalMark, guessGroupMark } from './guess-decimals.ts';
import { cellsOf, linesOf } from '../foreign/preamble-lines.ts';

/** How the table of an unknown text is laid out, as far as its beginning shows. */
export type Layout = {
  delimiter: (typeof DELIMITERS)[number];
  decimalMark: '.' | ',';
  /** What stands between thousands, where some number with decimals shows it. */
  groupMark: '.' | ',' | null;
  /** Lines above the header, the header's cells, the rows of units of measure after it, the rows of data. */
  preamble: readonly string[];
  headerLine: number;
  names: readonly string[];
  unitRows: readonly (readonly string[])[];
  rows: readonly (readonly string[])[];
  questions: string[];
};

const MOST_ROWS = 400;
/** Units of measure stand within so many rows of the header, if at all (common practice). */
const MOST_ROWS_AFTER = 3;

const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/i;
const CLOCK_OR_DATE = /^[+-]?\d[\d.,:/TZ+ -]*\s?(?:[ap]\.?m\.?)?$/i;
const isValue = (cell: string) => NUMBER.test(cell) || CLOCK_OR_DATE.test(cell);

/** Null where the text has no header above rows of values. */
export function guessLayout(start: Uint8Array): Layout | null {
  const lines = linesOf(start).slice(0, MOST_ROWS);
  const delimiter = guessDelimiter(lines);
  const cells = lines.map((line) => cellsOf(line, delimiter).map((cell) => cell.trim()));
  const width = usualWidth(cells);
  const body = cells.slice(Math.floor(cells.length / 2)).filter((row) => isWide(row, width));
  const usual = mostFrequent(body.map(valueCount)) ?? 0;
  // A line `Start Time,2026-03-01` above the table has fewer values than its rows have.
  const data = cells.findIndex((row) => isWide(row, width) && 2 * valueCount(row) > usual);
  if (usual === 0) return null;
  const header = headerBefore(cells.slice(0, Math.max(0, data)), width);
  if (header < 0) return null;
  const rows = cells.slice(data).filter((row) => row.some((cell) => cell !== ''));
  const groupMark = guessGroupMark(rows);
  const [decimalMark, question] =
    groupMark === null ? guessDecimalMark(rows) : ([groupMark === '.' ? ',' : '.', null] as const);
  return {
    delimiter,
    decimalMark,
    groupMark,
    preamble: lines.slice(0, header),
    headerLine: header + 1,
    names: cells[header]!,
    unitRows: cells.slice(header + 1, data),
    rows,
    questions: question === null ? [] : [question],
  };
}

/** The delimiter that cuts most lines into the same number of cells; a comma last, since it may be a decimal mark. */
function guessDelimiter(lines: readonly string[]): Layout['delimiter'] {
  const body = lines.filter((line) => line.trim() !== '').slice(Math.floor(lines.length / 3));
  const order = [...DELIMITERS].sort((a, b) => Number(a === ',') - Number(b === ','));
  const shares = order.map((delimiter) => {
    const widths = body.map((line) => cellsOf(line, delimiter).length);
    const usual = mostFrequent(widths.filter((each) => each > 1));
    return usual === null ? 0 : widths.filter((each) => each === usual).length / widths.length;
  });
  const best = Math.max(...shares);
  return best === 0 ? ',' : order[shares.findIndex((share) => share >= 0.9 * best)]!;
}

function usualWidth(cells: readonly (readonly string[])[]): number {
  return mostFrequent(cells.filter((row) => row.some(isValue)).map((row) => row.length)) ?? 1;
}

function mostFrequent(values: readonly number[]): number | null {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

const isWide = (row: readonly string[], width: number) => Math.abs(row.length - width) <= 1;

const valueCount = (row: readonly string[]) => row.filter(isValue).length;

/** The last row of words above the data that are no units of measure; a last cell may be empty. */
function headerBefore(above: Layout['rows'], width: number): number {
  const last = above.findLastIndex((row) => !row.every(isUnitOfMeasure));
  const row = above[last];
  if (row === undefined || above.length - last - 1 > MOST_ROWS_AFTER || !isWide(row, width) || row.some(isValue))
    return -1;
  const worded = row.filter((cell) => /\p{L}/u.test(cell)).length;
  return worded >= Math.max(1, Math.ceil((row.length - 1) / 2)) ? last : -1;
}
