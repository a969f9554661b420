import { LIFE_EXPORT, OUTLOOK_EXPORT, TREND_EXPORT } from './assessed-exports.ts';
import { BACKTEST_EXPORT } from './backtest-export.ts';
import { CRANK_EXPORT } from './crank-export.ts';
import type { ExportTable } from './export-table.ts';
import { RANKING_EXPORT } from './ranking-export.ts';
import { SET_ASIDE_EXPORT } from './set-aside-export.ts';
import { WORK_ORDER_EXPORT } from './work-order-export.ts';

/** Everything that `export` writes: one more table is one more line. */
export const EXPORTS: readonly ExportTable[] = [
  CRANK_EXPORT,
  WORK_ORDER_EXPORT,
  LIFE_EXPORT,
  TREND_EXPORT,
  OUTLOOK_EXPORT,
  RANKING_EXPORT,
  SET_ASIDE_EXPORT,
  BACKTEST_EXPORT,
];
