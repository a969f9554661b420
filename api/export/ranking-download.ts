import type { Ranking } from '../contract/ranking.ts';
import { csvBlocks } from './csv-writer.ts';
import { RANKING_COLUMNS, rankingCells } from './ranking-export.ts';

/** The ranking as the browser downloads it: the columns of the export, safe to open in a spreadsheet. */
export async function rankingCsv({ asOf, currency, rows }: Ranking): Promise<string> {
  const blocks: string[] = [];
  const cells = rows.map((row) => rankingCells(row, { asOf, currency }));
  for await (const block of csvBlocks(RANKING_COLUMNS, cells, { currency, safeForSpreadsheet: true }))
    blocks.push(block);
  return blocks.join('');
}
