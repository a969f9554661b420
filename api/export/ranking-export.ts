import type { RankedRow } from '../../etl/store/store.ts';
import { rankedDay } from '../views/ranked-day.ts';
import { rankingBasis } from '../views/ranking-basis.ts';
import { dayOfUnit } from './day-of-unit.ts';
import { columns, type Cells, type ExportTable } from './export-table.ts';

export const RANKING_COLUMNS = [
  ...columns('text', 'as_of'),
  ...columns('integer', 'rank'),
  ...columns('text', 'unit', 'depot', 'component', 'action'),
  ...columns('date', 'act_by'),
  ...columns('number', 'p_fail_to_next_visit'),
  ...columns('money', 'cost_now', 'cost_of_waiting'),
  ...columns('number', 'road_call_risk'),
  ...columns('text', 'reason', 'currency', 'position'),
];

export function rankingCells(row: RankedRow, { asOf, currency }: { asOf: string; currency: string }): Cells {
  return [
    asOf,
    row.rank,
    row.unit,
    row.depot,
    row.component,
    row.action,
    row.actByOn,
    row.pFailToNextVisit,
    row.costNowMinor,
    row.costOfWaitingMinor,
    row.roadCallRisk,
    row.reason,
    currency,
    row.position,
  ];
}

/**
 * In order of rank, which is its key. As it was stored, while settings and decisions are the same; else anew. Of an
 * earlier day anew too: what was stored while it was the newest knows decisions that were made after its end.
 */
export const RANKING_EXPORT: ExportTable = {
  name: 'ranking',
  about: 'one row per unit and component, the one that costs most to wait for first',
  columns: RANKING_COLUMNS,
  assessed: true,
  async *rows({ store, asOf, settings, decidedUs }) {
    const stored = await store.ranking(asOf.label);
    const isNewest = decidedUs !== asOf.us;
    const isCurrent = isNewest && stored?.basis === (await rankingBasis(store));
    const rows = stored !== null && isCurrent ? stored.rows : (await rankedDay(store, asOf, decidedUs)).rows;
    const asOfOf = await dayOfUnit(store, asOf.label);
    for (const row of rows) yield rankingCells(row, { asOf: asOfOf(row.unit), currency: settings.currency });
  },
};
