import { aucAtHorizon } from '../../../etl/stats/auc-at-horizon.ts';
import { brierScore } from '../../../etl/stats/brier-score.ts';
import { calibrationInTheLarge } from '../../../etl/stats/calibration-in-the-large.ts';
import { calibrationLine } from '../../../etl/stats/calibration-line.ts';
import { clusterDraws, percentileInterval } from '../../../etl/stats/cluster-bootstrap.ts';
import { harrellC } from '../../../etl/stats/harrell-c.ts';
import { recallAtTop } from '../../../etl/stats/recall-at-top.ts';
import { StatisticsRefusal } from '../../../etl/stats/refusal.ts';
import { unoC } from '../../../etl/stats/uno-c.ts';
import { windowCoverage } from '../../../etl/stats/window-coverage.ts';
import { HORIZON, SCORED, shareFailing, type JudgedRow, type Scored } from './rows.ts';

export type ScoredFigures = {
  harrellC: number;
  unoC: number;
  auc: number;
  /** 1 − Brier / Brier of the fleet's own share; NaN for what gives no probability. */
  skill: number;
  ratio: number;
  slope: number;
  top10: number;
};
export type Figures = {
  rows: number;
  /** Parts that failed within a horizon of a forecast. */
  failures: number;
  of: Record<Scored, ScoredFigures>;
  coverage: { inside: number; low: number; high: number; before: number };
  closed: Record<'harrellC' | 'unoC' | 'skill', Way>;
};

/**
 * Share of the way from the better baseline, and from the notebook, to perfect knowledge; and from the better baseline
 * to one who knows the wear but no specimen's limit.
 */
export type Way = { fromBaseline: number; fromNotebook: number; toWorn: number };

const NO_PROBABILITY: readonly Scored[] = ['voltage', 'last_value'];
const BASELINES: readonly Scored[] = ['age_only', 'base_rate', 'voltage', 'last_value'];
const DRAWS = 200;

function asked(ask: () => number): number {
  try {
    return ask();
  } catch (error) {
    if (error instanceof StatisticsRefusal || error instanceof RangeError) return Number.NaN;
    throw error;
  }
}

export function figuresOf(rows: readonly JudgedRow[]): Figures {
  const time = Float64Array.from(rows, ({ days }) => days);
  const event = Uint8Array.from(rows, ({ failed }) => Number(failed));
  const ofNothing = brierScore({ time, event, pFail: ofShares(rows) }, HORIZON);
  const of = Object.fromEntries(
    SCORED.map((name) => {
      const score = Float64Array.from(rows, (row) => row.score[name]);
      return [name, scoredFigures(rows, { time, event, score, ofNothing, withChance: !NO_PROBABILITY.includes(name) })];
    }),
  ) as Figures['of'];
  const failed = rows.filter((row) => row.failed && row.days <= HORIZON);
  return {
    rows: rows.length,
    failures: new Set(failed.map(({ unit, component, origin, days }) => `${unit} ${component} ${origin + days}`)).size,
    of,
    coverage: coverageOf(rows, event),
    closed: {
      harrellC: closedBy(of, 'harrellC'),
      unoC: closedBy(of, 'unoC'),
      skill: closedBy(of, 'skill'),
    },
  };
}

/** Each fleet's own share of failures, whatever the forecasts. */
function ofShares(rows: readonly JudgedRow[]): Float64Array {
  const shares = new Map<string, number>();
  for (const { fleet } of rows)
    if (!shares.has(fleet)) shares.set(fleet, shareFailing(rows.filter((row) => row.fleet === fleet)));
  return Float64Array.from(rows, ({ fleet }) => shares.get(fleet)!);
}

type Columns = { time: Float64Array; event: Uint8Array; score: Float64Array; ofNothing: number; withChance: boolean };

function scoredFigures(
  rows: readonly JudgedRow[],
  { time, event, score, ofNothing, withChance }: Columns,
): ScoredFigures {
  const ranked = { time, event, score };
  const likely = { time, event, pFail: score };
  const chance = (ask: () => number) => (withChance ? asked(ask) : Number.NaN);
  return {
    harrellC: asked(() => harrellC({ ...withinHorizon(ranked), score })),
    unoC: asked(() => unoC(ranked, HORIZON + 0.5)),
    auc: asked(() => aucAtHorizon(ranked, HORIZON)),
    skill: chance(() => 1 - brierScore(likely, HORIZON) / ofNothing),
    ratio: chance(() => calibrationInTheLarge(likely, HORIZON).ratio),
    slope: chance(() => calibrationLine(likely, HORIZON).slope),
    top10: asked(() => recallTop(rows, score)),
  };
}

/** Followed no further than the horizon: a chance of the next 90 days says nothing of the order after them. */
function withinHorizon({ time, event }: { time: Float64Array; event: Uint8Array }) {
  return {
    time: time.map((days) => Math.min(days, HORIZON + 0.5)),
    event: event.map((failed, row) => Number(failed === 1 && time[row]! <= HORIZON)),
  };
}

/** Fleet by fleet and origin by origin, of the rows followed to the horizon. */
function recallTop(rows: readonly JudgedRow[], score: Float64Array): number {
  const groups = new Map<string, number[]>();
  rows.forEach((row, at) => {
    if (!row.failed && row.days < HORIZON) return;
    const key = `${row.fleet} ${row.origin}`;
    groups.set(key, [...(groups.get(key) ?? []), at]);
  });
  let [found, failures] = [0, 0];
  for (const group of groups.values()) {
    const failed = Uint8Array.from(group, (at) => Number(rows[at]!.failed && rows[at]!.days <= HORIZON));
    const top = recallAtTop({ score: Float64Array.from(group, (at) => score[at]!), failed }, 0.1);
    found += top.found;
    failures += top.failed;
  }
  return found / failures;
}

function coverageOf(rows: readonly JudgedRow[], event: Uint8Array): Figures['coverage'] {
  const u = Float64Array.from(rows, (row) => row.u);
  const whole = windowCoverage(u, event);
  const draws = clusterDraws(
    rows.map(({ unit }) => unit),
    { seed: 1, count: DRAWS },
  ).map(
    (chosen) =>
      windowCoverage(
        Float64Array.from(chosen, (at) => u[at]!),
        Uint8Array.from(chosen, (at) => event[at]!),
      ).inside,
  );
  const interval = percentileInterval(draws);
  return {
    inside: whole.inside ?? Number.NaN,
    low: interval?.low ?? Number.NaN,
    high: interval?.high ?? Number.NaN,
    before: whole.before,
  };
}

function closedBy(of: Figures['of'], figure: 'harrellC' | 'unoC' | 'skill'): Way {
  const best = Math.max(...BASELINES.map((name) => of[name][figure]).filter((value) => !Number.isNaN(value)));
  const way = (from: number, to: Scored) => (of.outlook[figure] - from) / (of[to][figure] - from);
  return {
    fromBaseline: way(best, 'perfect'),
    fromNotebook: way(of.notebook[figure], 'perfect'),
    toWorn: way(best, 'worn'),
  };
}
