import type { BacktestForecast } from '../../etl/model/backtest.ts';
import { columns, compareKeys, type Cells, type ExportTable } from './export-table.ts';

export const BACKTEST_COLUMNS = [
  ...columns('text', 'as_of', 'unit', 'component'),
  ...columns('number', 'p_fail'),
  ...columns('date', 'window_early', 'window_mid', 'window_late'),
  ...columns('flag', 'failed_within'),
  ...columns('date', 'failed_on'),
  ...columns('text', 'position'),
];

export function backtestCells(forecast: BacktestForecast): Cells {
  return [
    forecast.asOfOn,
    forecast.unit,
    forecast.component,
    forecast.pFail,
    forecast.windowEarlyOn,
    forecast.windowMidOn,
    forecast.windowLateOn,
    forecast.failedWithin === null ? null : Number(forecast.failedWithin),
    forecast.failedOn,
    forecast.position,
  ];
}

/** The newest backtest, whatever the date: its rows carry their own. */
export const BACKTEST_EXPORT: ExportTable = {
  name: 'backtest',
  about: 'the forecasts of the newest backtest beside what happened (run backtest first)',
  columns: BACKTEST_COLUMNS,
  assessed: false,
  summary: async (store) => (await store.backtest())?.summary ?? null,
  async *rows({ store }) {
    const key = (each: BacktestForecast) => [each.asOfOn, each.unit, each.component, each.position];
    for (const forecast of (await store.backtestForecasts()).toSorted((a, b) => compareKeys(key(a), key(b))))
      yield backtestCells(forecast);
  },
};
