import type { Layout } from './guess-layout.ts';

/** What loggers write where a value is missing (common practice); the numbers are ones that no field takes. */
const MISSING_MARKS = [
  '-',
  '--',
  '---',
  'n/a',
  'N/A',
  'NA',
  'na',
  '#N/A',
  'null',
  'NULL',
  'none',
  'NaN',
  'nan',
  '?',
  '-9999',
  '-32768',
  '-273.15',
];
/** Letters alone: `1.2E-03` has no unit of measure. */
const CELL_WITH_UNIT = /^([+-]?\d[\d.,]*)\s?([a-zµμ°%][a-z/%]{0,9})$/i;

export function missingMarksIn({ rows }: Layout): string[] {
  const cells = new Set(rows.flat());
  return MISSING_MARKS.filter((mark) => cells.has(mark));
}

/** The cells of a column that say something, the empty ones among them. */
export function textsOf({ rows }: Layout, index: number): string[] {
  return rows.map((row) => row[index] ?? '').filter((text) => !MISSING_MARKS.includes(text));
}

export function numbersOf(layout: Layout, index: number): number[] {
  const { decimalMark, groupMark } = layout;
  const bare = (text: string) => (groupMark === null ? text : text.replaceAll(groupMark, ''));
  const pointed = (text: string) => (decimalMark === ',' ? bare(text).replace(',', '.') : bare(text));
  return textsOf(layout, index)
    .filter((text) => text !== '')
    .map((text) => Number(pointed(CELL_WITH_UNIT.exec(text)?.[1] ?? text)))
    .filter((value) => !Number.isNaN(value));
}

/** `12.6 V`: the units of measure that the cells themselves have. */
export function unitsInCells(texts: readonly string[]): string[] {
  return [...new Set(texts.flatMap((text) => CELL_WITH_UNIT.exec(text)?.[2] ?? []))];
}
