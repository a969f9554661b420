import type { Ranking } from '../contract/ranking.ts';
import { arrowStream } from './arrow-writer.ts';
import { csvBlocks } from './csv-writer.ts';
import type { Cells } from './export-table.ts';
import { RANKING_COLUMNS, rankingCells } from './ranking-export.ts';

/** The ranking as the browser downloads it: the columns of the export, safe to open in a spreadsheet. */
export async function rankingCsv(ranking: Ranking, asOfOf: AsOfOf): Promise<string> {
  const blocks: string[] = [];
  const options = { currency: ranking.currency, safeForSpreadsheet: true };
  for await (const block of csvBlocks(RANKING_COLUMNS, cellsOf(ranking, asOfOf), options)) blocks.push(block);
  return blocks.join('');
}

/** The same for a program. */
export function rankingArrow(ranking: Ranking, asOfOf: AsOfOf): Uint8Array {
  return arrowStream(RANKING_COLUMNS, cellsOf(ranking, asOfOf), ranking.currency);
}

/** As of when a unit was assessed: its own day where it was computed anew alone. */
type AsOfOf = (unit: string) => string;

function cellsOf({ rows, currency }: Ranking, asOfOf: AsOfOf): Cells[] {
  return rows.map((row) => rankingCells(row, { asOf: asOfOf(row.unit), currency }));
}
