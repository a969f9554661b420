import { stringify } from 'csv-stringify/sync';
import { spreadsheetText, cellText } from './cell-text.ts';
import type { Cells, Column } from './export-table.ts';

/** CSV after RFC 4180 with a header row, in blocks of text. */
export type CsvOptions = { currency: string; safeForSpreadsheet?: boolean };

export async function* csvBlocks(
  columns: readonly Column[],
  rows: AsyncIterable<Cells> | Iterable<Cells>,
  options: CsvOptions,
): AsyncGenerator<string> {
  yield csvText([columns.map(({ name }) => name)]);
  let block: string[][] = [];
  const write = options.safeForSpreadsheet === true ? spreadsheetText : cellText;
  for await (const cells of rows) {
    block.push(cells.map((cell, index) => write(cell, columns[index]!, options.currency)));
    if (block.length < BLOCK_ROWS) continue;
    yield csvText(block);
    block = [];
  }
  if (block.length > 0) yield csvText(block);
}

function csvText(rows: readonly (readonly string[])[]): string {
  return stringify(rows as string[][], { record_delimiter: 'windows' });
}

/** Rows that are turned into text at once: some hundred kB. */
const BLOCK_ROWS = 2000;
