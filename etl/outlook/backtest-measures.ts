/**
 * Every figure of a backtest that gets an interval, by name, over one set of rows: the rows themselves or a draw of them.
 * A figure that cannot be had on a set (no failure in it, …) is null.
 */
import { BASELINES, FORECASTERS, type Forecaster } from '../model/backtest.ts';
import { aucAtHorizon } from '../stats/auc-at-horizon.ts';
import { brierScore, brierSkill } from '../stats/brier-score.ts';
import { calibrationGroups } from '../stats/calibration-groups.ts';
import { calibrationInTheLarge } from '../stats/calibration-in-the-large.ts';
import { calibrationLine } from '../stats/calibration-line.ts';
import { harrellC } from '../stats/harrell-c.ts';
import { recallAtTop } from '../stats/recall-at-top.ts';
import { StatisticsRefusal } from '../stats/refusal.ts';
import { unoC } from '../stats/uno-c.ts';
import { windowCoverage } from '../stats/window-coverage.ts';
import type { BacktestColumns } from './backtest-columns.ts';

export type Measures = Record<string, number | null>;
export type MeasureOptions = { horizonDays: number; edges: readonly number[]; forecasters?: readonly Forecaster[] };

/** Those that give a probability and not only an order. */
export const WITH_PROBABILITY: readonly Forecaster[] = ['outlook', 'base_rate', 'age_only'];
/** A failure on the horizon's last day counts; Uno's C takes failures strictly before a time. */
const LAST_DAY = 0.5;

/** The figure, or null where it is refused or is none (a draw without a forecast to divide by). */
export function answered(ask: () => number): number | null {
  try {
    const figure = ask();
    return Number.isFinite(figure) ? figure : null;
  } catch (error) {
    if (error instanceof StatisticsRefusal) return null;
    throw error;
  }
}

export function measuresOf(columns: BacktestColumns, options: MeasureOptions): Measures {
  const { horizonDays, forecasters = FORECASTERS } = options;
  const measures: Measures = {};
  const origins = followedByOrigin(columns);
  for (const forecaster of forecasters) {
    const rows = { ...columns, score: columns.score[forecaster], pFail: columns.score[forecaster] };
    const set = (name: string, ask: () => number) => (measures[`${forecaster} ${name}`] = answered(ask));
    set('harrellC', () => harrellC(rows));
    set('unoC', () => unoC(rows, horizonDays + LAST_DAY));
    set('auc', () => aucAtHorizon(rows, horizonDays));
    set('recallTop5', () => recall(columns, { forecaster, origins, share: 0.05 }));
    set('recallTop10', () => recall(columns, { forecaster, origins, share: 0.1 }));
    if (WITH_PROBABILITY.includes(forecaster)) set('brier', () => brierScore(rows, horizonDays));
  }
  for (const forecaster of WITH_PROBABILITY)
    measures[`${forecaster} skill`] = answered(() =>
      brierSkill(known(measures[`${forecaster} brier`]), known(measures['base_rate brier'])),
    );
  for (const baseline of BASELINES)
    for (const name of ['unoC', 'skill'])
      measures[`margin ${baseline} ${name}`] = answered(
        () => known(measures[`outlook ${name}`]) - known(measures[`${baseline} ${name}`]),
      );
  return { ...measures, ...calibrationOf(columns, options), ...windowOf(columns) };
}

function known(value: number | null | undefined): number {
  if (value === null || value === undefined) throw new StatisticsRefusal('margin', 'both figures', 'none', 'measures');
  return value;
}

function calibrationOf(columns: BacktestColumns, { horizonDays, edges }: MeasureOptions): Measures {
  const rows = { ...columns, pFail: columns.score.outlook };
  const measures: Measures = { ratio: answered(() => calibrationInTheLarge(rows, horizonDays).ratio) };
  measures['slope'] = answered(() => {
    const { slope, intercept } = calibrationLine(rows, horizonDays);
    measures['intercept'] = intercept;
    return slope;
  });
  if (rows.time.length > 0)
    calibrationGroups(rows, horizonDays, edges).forEach((group, k) => {
      measures[`group ${k}`] = group?.observed ?? null;
    });
  return measures;
}

function windowOf({ u, event }: BacktestColumns): Measures {
  if (u.length === 0) return { before: null, inside: null, after: null };
  const { before, inside, after } = windowCoverage(u, event);
  return { before, inside, after };
}

type Origins = readonly (readonly number[])[];

/** Rows of each origin that were followed to the horizon. */
function followedByOrigin({ origin, within }: BacktestColumns): Origins {
  const rows = new Map<number, number[]>();
  origin.forEach((at, row) => {
    if (within[row] === 2) return;
    const own = rows.get(at);
    if (own === undefined) rows.set(at, [row]);
    else own.push(row);
  });
  return [...rows.values()];
}

type Recall = { forecaster: Forecaster; origins: Origins; share: number };

/** Origin by origin, since a bay's room is that of its day. */
function recall({ score, within }: BacktestColumns, { forecaster, origins, share }: Recall): number {
  let [found, failed] = [0, 0];
  for (const rows of origins) {
    const own = score[forecaster];
    const top = recallAtTop(
      { score: Float64Array.from(rows, (row) => own[row]!), failed: Uint8Array.from(rows, (row) => within[row]!) },
      share,
    );
    found += top.found;
    failed += top.failed;
  }
  if (failed === 0) throw new StatisticsRefusal('recall', 'a failure within the horizon', 0, 'rows');
  return found / failed;
}
