import type { Outlook } from '../../etl/model/outlook.ts';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import type { Trend } from '../../etl/model/trend.ts';
import { dayOfUnit } from './day-of-unit.ts';
import { columns, compareKeys, type Cells, type ExportTable } from './export-table.ts';

/** What `assess` computed for the date: lives, trends, outlooks. Reasons in a cell are joined by `; `, words by `;`. */
export const LIFE_EXPORT: ExportTable = {
  name: 'lives',
  about: 'the service life of each component, with how it began and ended',
  columns: [
    ...columns('text', 'unit', 'component'),
    ...columns('date', 'fitted', 'removed'),
    ...columns('text', 'end', 'fitted_from', 'work_order', 'position'),
  ],
  assessed: true,
  async *rows({ store, asOf }) {
    const key = (life: ServiceLife) => [
      life.unit,
      life.component,
      life.position,
      life.fittedOn ?? '',
      life.watchedFromOn,
    ];
    for (const life of (await store.lives(asOf.label)).toSorted((a, b) => compareKeys(key(a), key(b))))
      yield [
        life.unit,
        life.component,
        life.fittedOn,
        life.removedOn,
        life.end,
        life.fittedFrom,
        life.workOrder === '' ? null : life.workOrder,
        life.position,
      ];
  },
};

export const TREND_EXPORT: ExportTable = {
  name: 'trends',
  about: 'level and slope of each indicator, with its interval',
  columns: [
    ...columns('text', 'as_of', 'unit', 'component', 'indicator'),
    ...columns('number', 'level', 'slope_per_year', 'slope_low', 'slope_high', 'p_value'),
    ...columns('integer', 'n'),
    ...columns('date', 'since'),
    ...columns('text', 'position'),
  ],
  assessed: true,
  async *rows({ store, asOf }) {
    const asOfOf = await dayOfUnit(store, asOf.label);
    const key = (trend: Trend) => [trend.unit, trend.component, trend.indicator, trend.position];
    for (const trend of (await store.trends(asOf.label)).toSorted((a, b) => compareKeys(key(a), key(b))))
      yield [
        asOfOf(trend.unit),
        trend.unit,
        trend.component,
        trend.indicator,
        trend.level,
        trend.slopePerYear,
        trend.slopeLow,
        trend.slopeHigh,
        trend.pValue,
        trend.n,
        trend.sinceOn,
        trend.position,
      ];
  },
};

export const OUTLOOK_COLUMNS = [
  ...columns('text', 'as_of', 'unit', 'component'),
  ...columns('number', 'age_days', 'p_fail_30d', 'p_fail_60d', 'p_fail_90d'),
  ...columns('date', 'window_early', 'window_mid', 'window_late'),
  ...columns('text', 'basis', 'evidence', 'position'),
];

export function outlookCells(outlook: Outlook, asOf: string): Cells {
  return [
    asOf,
    outlook.unit,
    outlook.component,
    outlook.ageDays,
    outlook.pFail30d,
    outlook.pFail60d,
    outlook.pFail90d,
    outlook.windowEarlyOn,
    outlook.windowMidOn,
    outlook.windowLateOn,
    outlook.basis.join(';'),
    outlook.evidence.join('; '),
    outlook.position,
  ];
}

export const OUTLOOK_EXPORT: ExportTable = {
  name: 'outlook',
  about: 'failure probabilities and the failure window of battery and starter',
  columns: OUTLOOK_COLUMNS,
  assessed: true,
  async *rows({ store, asOf }) {
    const asOfOf = await dayOfUnit(store, asOf.label);
    const key = (outlook: Outlook) => [outlook.unit, outlook.component, outlook.position];
    for (const outlook of (await store.outlooks(asOf.label)).toSorted((a, b) => compareKeys(key(a), key(b))))
      yield outlookCells(outlook, asOfOf(outlook.unit));
  },
};
