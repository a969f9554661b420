/**
 * A part of the fleet or of the time, scored like the whole: hits and misses of one depot, of one class, of one winter.
 * Worked out within a request, hence bounded: fewer draws than the backtest's, and too large a part is refused.
 */
import type { TrackRecord, TrackRecordQuery } from '../contract/track-record.ts';
import type { BacktestForecast, BacktestSummary } from '../../etl/model/backtest.ts';
import { FORECAST_COMPONENTS } from '../../etl/model/words.ts';
import { pullMonths } from '../../etl/outlook/backtest-pulls.ts';
import { scoresOf } from '../../etl/outlook/backtest-scores.ts';

export type Scope = Pick<TrackRecordQuery, 'depot' | 'class' | 'from' | 'to'>;
export type Scored = Pick<TrackRecord, 'scores' | 'months' | 'scope'>;

/** Rows drawn in all: about a second and a half of a core (`scoresOf` on 2,232 forecasts: 10 µs a row drawn). */
const MOST_DRAWN_ROWS = 150_000;
const MOST_DRAWS = 100;
/** With fewer, an interval of 95 % is its outermost draws. Common practice. */
const LEAST_DRAWS = 40;
/** As the backtest's. */
const SEED = 1;

export function isWhole({ depot, class: name, from, to }: Scope): boolean {
  return [depot, name, from, to].every((each) => each === undefined);
}

/** `forecasts`: those within the scope. */
export function scoredScope(forecasts: readonly BacktestForecast[], summary: BacktestSummary): Scored {
  const draws = Math.min(MOST_DRAWS, Math.floor(MOST_DRAWN_ROWS / Math.max(1, forecasts.length)));
  if (draws < LEAST_DRAWS) return { scores: [], months: [], scope: 'too_large' };
  const { horizonDays } = summary.plan;
  return {
    scores: FORECAST_COMPONENTS.map((each) => scoresOf(each, forecasts, { horizonDays, seed: SEED, draws })),
    months: pullMonths(forecasts, horizonDays),
    scope: 'part',
  };
}

/** The last one is kept: turning the pages of the list asks for the same again. */
export type ScopeScores = (key: string, make: () => Scored) => Scored;

export function createScopeScores(): ScopeScores {
  let kept: { key: string; scored: Scored } | null = null;
  return (key, make) => {
    if (kept?.key !== key) kept = { key, scored: make() };
    return kept.scored;
  };
}
