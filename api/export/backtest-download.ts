import type { TrackedForecast } from '../contract/track-record.ts';
import { BACKTEST_COLUMNS } from './backtest-export.ts';
import { csvBlocks } from './csv-writer.ts';
import type { Cells } from './export-table.ts';

/** The list as the browser downloads it: the columns of the export, safe to open in a spreadsheet. */
export async function backtestCsv(forecasts: readonly TrackedForecast[], currency: string): Promise<string> {
  const blocks: string[] = [];
  const cells = forecasts.map((each): Cells => [
    each.asOfOn,
    each.unit,
    each.component,
    each.pFail,
    each.windowEarlyOn,
    each.windowMidOn,
    each.windowLateOn,
    each.failedWithin === null ? null : Number(each.failedWithin),
    each.failedOn,
    each.position,
  ]);
  for await (const block of csvBlocks(BACKTEST_COLUMNS, cells, { currency, safeForSpreadsheet: true }))
    blocks.push(block);
  return blocks.join('');
}
