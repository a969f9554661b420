/** The scores of a backtest, component by component, each with an interval by bootstrap over units. */
import {
  BASELINES,
  FORECASTERS,
  type BacktestForecast,
  type CalibrationScores,
  type ComponentScores,
  type Estimate,
  type WindowScores,
} from '../model/backtest.ts';
import { groupBy } from '../model/group-by.ts';
import { dayNumber } from '../model/time.ts';
import type { ForecastComponent } from '../model/words.ts';
import { aalenJohansen } from '../stats/aalen-johansen.ts';
import { calibrationGroups, groupEdges } from '../stats/calibration-groups.ts';
import { calibrationInTheLarge } from '../stats/calibration-in-the-large.ts';
import { clusterDraws, percentileInterval } from '../stats/cluster-bootstrap.ts';
import { dCalibration } from '../stats/d-calibration.ts';
import { intervalScore } from '../stats/interval-score.ts';
import { windowCoverage } from '../stats/window-coverage.ts';
import { columnsOf, drawn, isScored, type BacktestColumns } from './backtest-columns.ts';
import { scoresWithWrongLabels } from './backtest-labels.ts';
import { answered, measuresOf, type Measures } from './backtest-measures.ts';
import { partKey, pullScores } from './backtest-pulls.ts';
import { verdictOf } from './backtest-verdict.ts';

export type ScoreOptions = { horizonDays: number; seed: number; draws: number };

/** Below, even slope and intercept are so loose that nothing follows (Snell and others 2021). */
export const JUDGEABLE_FAILURES = 100;
const GROUPS = 10;
const WRONG_SHARES = [0.1, 0.2];
const LABEL_DRAWS = 20;
/** A window is meant to hold 80 %. */
const WINDOW_ALPHA = 0.2;
/** Units followed to the end of a window, below which nothing is said of how much it held. Convention of this program. */
const LEAST_UNITS_AT_END = 10;
const WINDOW_END = 0.9;

export function scoresOf(
  component: ForecastComponent,
  all: readonly BacktestForecast[],
  { horizonDays, seed, draws }: ScoreOptions,
): ComponentScores {
  const forecasts = all.filter((each) => each.component === component && isScored(each));
  const columns = columnsOf(forecasts);
  const edges = forecasts.length === 0 ? [Infinity] : groupEdges(columns.score.outlook, GROUPS);
  const options = { horizonDays, edges };
  const estimate = estimator(columns, { units: forecasts.map(({ unit }) => unit), seed, draws, options });
  const failed = forecasts.filter(({ failedWithin }) => failedWithin === true);
  const failures = new Set(failed.map(partKey)).size;
  const scores = {
    component,
    forecasts: forecasts.length,
    units: new Set(forecasts.map(({ unit }) => unit)).size,
    parts: new Set(forecasts.map(partKey)).size,
    failures,
    failedForecasts: failed.length,
    ...endShares(forecasts, columns, horizonDays),
    forecasters: FORECASTERS.map((forecaster) => ({
      forecaster,
      harrellC: estimate(`${forecaster} harrellC`),
      unoC: estimate(`${forecaster} unoC`),
      auc: estimate(`${forecaster} auc`),
      brier: estimate(`${forecaster} brier`),
      skill: estimate(`${forecaster} skill`),
      recallTop5: estimate(`${forecaster} recallTop5`),
      recallTop10: estimate(`${forecaster} recallTop10`),
    })),
    margins: BASELINES.map((against) => ({
      against,
      unoC: estimate(`margin ${against} unoC`),
      skill: estimate(`margin ${against} skill`),
    })),
    calibration: calibrationScores({ forecasts, columns, edges, horizonDays, failures, estimate }),
    window: windowScores(forecasts, columns, estimate),
    pulls: pullScores(forecasts, horizonDays),
    wrongLabels: WRONG_SHARES.map((share) =>
      scoresWithWrongLabels(forecasts, share, { ...options, seed, draws: LABEL_DRAWS }),
    ),
  };
  return { ...scores, verdict: verdictOf(scores) };
}

type Estimator = (name: string) => Estimate | null;

function estimator(
  columns: BacktestColumns,
  {
    units,
    seed,
    draws,
    options,
  }: { units: string[]; seed: number; draws: number; options: { horizonDays: number; edges: number[] } },
): Estimator {
  const whole: Measures = measuresOf(columns, options);
  const samples =
    units.length === 0
      ? []
      : clusterDraws(units, { seed, count: draws }).map((rows) => measuresOf(drawn(columns, rows), options));
  return (name) => {
    const value = whole[name] ?? null;
    if (value === null) return null;
    const interval = samples.length === 0 ? null : percentileInterval(samples.map((each) => each[name] ?? null));
    return { value, low: interval?.low ?? null, high: interval?.high ?? null };
  };
}

function endShares(forecasts: readonly BacktestForecast[], { time }: BacktestColumns, horizonDays: number) {
  if (forecasts.length === 0) return { failedShare: null, plannedShare: null };
  const causes = { failure: 1, planned: 2, in_service: 0, gone: 0 };
  const cause = Uint8Array.from(forecasts, ({ end }) => causes[end]);
  const curve = aalenJohansen({ entry: new Float64Array(time.length), exit: time, cause });
  return { failedShare: curve.incidence(1, horizonDays), plannedShare: curve.incidence(2, horizonDays) };
}

type Calibrating = {
  forecasts: readonly BacktestForecast[];
  columns: BacktestColumns;
  edges: readonly number[];
  horizonDays: number;
  failures: number;
  estimate: Estimator;
};

function calibrationScores(of: Calibrating): CalibrationScores {
  const { columns, edges, horizonDays, failures, estimate } = of;
  const rows = { ...columns, pFail: columns.score.outlook };
  const sum = (part: 'observed' | 'expected') => answered(() => calibrationInTheLarge(rows, horizonDays)[part]) ?? 0;
  const groups = rows.time.length === 0 ? [] : calibrationGroups(rows, horizonDays, edges);
  return {
    judgeable: failures >= JUDGEABLE_FAILURES,
    observed: sum('observed'),
    expected: sum('expected'),
    ratio: estimate('ratio'),
    slope: estimate('slope'),
    intercept: estimate('intercept'),
    groups: groups.flatMap((group, k) => {
      const observed = estimate(`group ${k}`);
      return group === null || observed === null ? [] : [{ forecasts: group.rows, forecast: group.forecast, observed }];
    }),
    dCalibration: dCalibrationOf(of.forecasts),
  };
}

/** Each part once, at its first forecast: the test takes rows to be independent. */
function dCalibrationOf(forecasts: readonly BacktestForecast[]): CalibrationScores['dCalibration'] {
  const firsts = [...groupBy(forecasts, partKey).values()].map((own) =>
    own.reduce((first, each) => (each.asOfOn < first.asOfOn ? each : first)),
  );
  if (firsts.length === 0) return null;
  const survival = Float64Array.from(firsts, ({ pFailByEnd }) => 1 - pFailByEnd);
  const event = Uint8Array.from(firsts, ({ failedOn }) => Number(failedOn !== null));
  const { bins, chiSquare, pValue } = dCalibration(survival, event);
  return { parts: firsts.length, bins: [...bins], chiSquare, pValue };
}

function windowScores(
  forecasts: readonly BacktestForecast[],
  { u, event }: BacktestColumns,
  estimate: Estimator,
): WindowScores {
  const unitsAtEnd = new Set(forecasts.filter((_, row) => u[row]! >= WINDOW_END).map(({ unit }) => unit)).size;
  const told = unitsAtEnd >= LEAST_UNITS_AT_END;
  const followed = u.length === 0 ? { atBeginning: 0, atEnd: 0 } : windowCoverage(u, event);
  const scored = forecasts.flatMap(({ asOfOn, windowEarlyOn, windowLateOn, failedOn }) => {
    if (failedOn === null || windowEarlyOn === null || windowLateOn === null) return [];
    const days = (on: string) => dayNumber(on) - dayNumber(asOfOn);
    return [intervalScore({ low: days(windowEarlyOn), high: days(windowLateOn) }, days(failedOn), WINDOW_ALPHA)];
  });
  return {
    before: estimate('before'),
    inside: told ? estimate('inside') : null,
    after: told ? estimate('after') : null,
    atBeginning: followed.atBeginning,
    atEnd: followed.atEnd,
    intervalScoreDays: scored.length === 0 ? null : scored.reduce((sum, score) => sum + score, 0) / scored.length,
    intervalFailures: scored.length,
  };
}
