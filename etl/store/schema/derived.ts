/** What can be computed anew from the loaded rows: may be dropped and rebuilt at any time. */
import { blob, customType, index, integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { FORECAST_ENDS, type BacktestSummary } from '../../model/backtest.ts';
import type { Trend } from '../../model/trend.ts';
import { ACTIONS, COMPONENTS, FORECAST_COMPONENTS, INDICATORS, LIFE_ENDS, type BasisWord } from '../../model/words.ts';
import type { RankedRow } from '../store.ts';
import { bytesOf, float64sOf } from '../float64-bytes.ts';

/**
 * Engines whose finished cranks no longer follow from their measured ones. `mark` names the change (the import that
 * came: its id; that went: its id negated; a new layout: 0), so that a finisher who read before a later change cannot
 * clear that change's mark.
 */
export const staleEngines = sqliteTable('stale_engines', {
  engineId: integer('engine_id').primaryKey(),
  mark: integer('mark').notNull(),
});

/** Finished cranks of one engine as Float64 columns; `layout` names the columns and their order. */
export const crankBlocks = sqliteTable('crank_blocks', {
  engineId: integer('engine_id').primaryKey(),
  /** The mark that this block answered; null where it was written unmarked. */
  mark: integer('mark'),
  layout: text('layout').notNull(),
  count: integer('count').notNull(),
  columns: blob('columns', { mode: 'buffer' }).notNull(),
});

const float64s = customType<{ data: Float64Array; driverData: Buffer }>({
  dataType: () => 'blob',
  toDriver: (values) => bytesOf(values),
  fromDriver: (bytes) => float64sOf(bytes),
});

export const assessments = sqliteTable(
  'assessments',
  {
    assessmentId: integer('assessment_id').primaryKey({ autoIncrement: true }),
    asOfLabel: text('as_of_label').notNull(),
    asOfUs: integer('as_of_us').notNull(),
    asOfOn: text('as_of_on').notNull(),
    state: text('state', { enum: ['saving', 'live', 'dropped'] }).notNull(),
    saver: text('saver').notNull(),
    computedUs: integer('computed_us').notNull(),
    inputs: text('inputs').notNull(),
    fleet: text('fleet', { mode: 'json' }).$type<unknown>(),
    /** When units were last computed anew; null while none was. */
    reassessedUs: integer('reassessed_us'),
    /** Settings under which its ranking was made; null while it has none. */
    rankingBasis: text('ranking_settings'),
  },
  (table) => [index('assessments_as_of').on(table.asOfLabel)],
);

/**
 * Units whose part of an assessment was computed anew after it, as of a day of their own, with what the fleet had been
 * found to be.
 */
export const reassessedUnits = sqliteTable(
  'reassessed_units',
  {
    assessmentId: integer('assessment_id')
      .notNull()
      .references(() => assessments.assessmentId),
    unit: text('unit').notNull(),
    asOfLabel: text('as_of_label').notNull(),
    asOfUs: integer('as_of_us').notNull(),
    asOfOn: text('as_of_on').notNull(),
    computedUs: integer('computed_us').notNull(),
  },
  (table) => [primaryKey({ columns: [table.assessmentId, table.unit] })],
);

/** `seq` keeps the order in which the rows were handed over. */
const place = () => ({
  assessmentId: integer('assessment_id')
    .notNull()
    .references(() => assessments.assessmentId),
  seq: integer('seq').notNull(),
  unit: text('unit').notNull(),
  position: text('position').notNull(),
});

export const lives = sqliteTable(
  'lives',
  {
    ...place(),
    component: text('component', { enum: COMPONENTS }).notNull(),
    fittedOn: text('fitted_on'),
    fittedFrom: text('fitted_from', { enum: ['record', 'assumed'] }).notNull(),
    removedOn: text('removed_on'),
    end: text('end', { enum: LIFE_ENDS }).notNull(),
    watchedFromOn: text('watched_from_on').notNull(),
    watchedToOn: text('watched_to_on').notNull(),
    workOrder: text('work_order').notNull(),
  },
  (table) => [primaryKey({ columns: [table.assessmentId, table.unit, table.seq] })],
);

export const trends = sqliteTable(
  'trends',
  {
    ...place(),
    component: text('component', { enum: FORECAST_COMPONENTS }).notNull(),
    indicator: text('indicator', { enum: INDICATORS }).notNull(),
    level: real('level'),
    slopePerYear: real('slope_per_year'),
    slopeLow: real('slope_low'),
    slopeHigh: real('slope_high'),
    senSlopePerYear: real('sen_slope_per_year'),
    pValue: real('p_value'),
    n: integer('n').notNull(),
    sinceOn: text('since_on'),
    residual: real('residual'),
    standing: text('standing').$type<Trend['standing']>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.assessmentId, table.unit, table.seq] })],
);

export const outlooks = sqliteTable(
  'outlooks',
  {
    ...place(),
    component: text('component', { enum: FORECAST_COMPONENTS }).notNull(),
    ageDays: real('age_days'),
    pFail30d: real('p_fail_30d'),
    pFail60d: real('p_fail_60d'),
    pFail90d: real('p_fail_90d'),
    windowEarlyOn: text('window_early_on'),
    windowMidOn: text('window_mid_on'),
    windowLateOn: text('window_late_on'),
    basis: text('basis', { mode: 'json' }).$type<readonly BasisWord[]>().notNull(),
    evidence: text('evidence', { mode: 'json' }).$type<readonly string[]>().notNull(),
    survival: float64s('survival'),
    meanLifeDays: real('mean_life_days'),
  },
  (table) => [primaryKey({ columns: [table.assessmentId, table.unit, table.seq] })],
);

export const rankings = sqliteTable(
  'rankings',
  {
    ...place(),
    rank: integer('rank').notNull(),
    depot: text('depot').notNull(),
    component: text('component', { enum: FORECAST_COMPONENTS }).notNull(),
    action: text('action', { enum: ACTIONS }).notNull(),
    actByOn: text('act_by_on'),
    pFailToNextVisit: real('p_fail_to_next_visit'),
    costNowMinor: integer('cost_now_minor'),
    costOfWaitingMinor: integer('cost_of_waiting_minor'),
    roadCallRisk: real('road_call_risk'),
    nextVisitOn: text('next_visit_on').notNull(),
    nextVisitFrom: text('next_visit_from').$type<RankedRow['nextVisitFrom']>().notNull(),
    reason: text('reason').notNull(),
  },
  (table) => [primaryKey({ columns: [table.assessmentId, table.unit, table.seq] })],
);

/** One walk through history; the newest is the one that counts. Its scores stand in the summary. */
export const backtests = sqliteTable('backtests', {
  backtestId: integer('backtest_id').primaryKey({ autoIncrement: true }),
  state: text('state', { enum: ['saving', 'live', 'dropped'] }).notNull(),
  saver: text('saver').notNull(),
  computedUs: integer('computed_us').notNull(),
  inputs: text('inputs').notNull(),
  summary: text('summary', { mode: 'json' }).$type<BacktestSummary>().notNull(),
});

export const backtestForecasts = sqliteTable(
  'backtest_forecasts',
  {
    backtestId: integer('backtest_id')
      .notNull()
      .references(() => backtests.backtestId),
    seq: integer('seq').notNull(),
    asOfOn: text('as_of_on').notNull(),
    unit: text('unit').notNull(),
    position: text('position').notNull(),
    component: text('component', { enum: FORECAST_COMPONENTS }).notNull(),
    partSinceOn: text('part_since_on').notNull(),
    pFail: real('p_fail').notNull(),
    windowEarlyOn: text('window_early_on'),
    windowMidOn: text('window_mid_on'),
    windowLateOn: text('window_late_on'),
    failedWithin: integer('failed_within', { mode: 'boolean' }),
    failedOn: text('failed_on'),
    end: text('end', { enum: FORECAST_ENDS }).notNull(),
    followedToOn: text('followed_to_on').notNull(),
    pFailByEnd: real('p_fail_by_end').notNull(),
    pFailByEndOfAge: real('p_fail_by_end_of_age').notNull(),
    baseRate: real('base_rate').notNull(),
    ageOnly: real('age_only').notNull(),
    belowThreshold: integer('below_threshold', { mode: 'boolean' }).notNull(),
    lastValue: real('last_value'),
  },
  (table) => [primaryKey({ columns: [table.backtestId, table.unit, table.seq] })],
);
