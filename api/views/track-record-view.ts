import type { BacktestForecast } from '../../etl/model/backtest.ts';
import type { Unit } from '../../etl/model/unit.ts';
import type { BacktestHead, Store } from '../../etl/store/store.ts';
import type { TrackedForecast, TrackRecord, TrackRecordQuery } from '../contract/track-record.ts';
import { servedWords, type ServedStore } from './served-store.ts';
import { isWhole, scoredScope, type Scope, type Scored, type ScopeScores } from './track-record-scope.ts';

const FIRST_PAGE = 200;

export type TrackQuestion = {
  head: BacktestHead | null;
  query: TrackRecordQuery;
  inputs: string;
  scopeScores: ScopeScores;
};

/** The newest backtest as the page shows it; `head` null where there is none. */
export async function trackRecordView(
  store: Store,
  served: ServedStore,
  { head, query, inputs, scopeScores }: TrackQuestion,
): Promise<TrackRecord> {
  if (head === null) return nothingWalked(served, (await store.imports()).length === 0 ? 'no_data' : 'not_walked');
  const [forecasts, units] = await Promise.all([store.backtestForecasts(), store.units()]);
  const unitOf = new Map(units.map((unit) => [unit.unit, unit]));
  const told = forecasts.map((each) => ({ each, shown: trackedForecast(each, unitOf.get(each.unit) ?? null) }));
  const inScope = told.filter(({ shown }) => isWithin(shown, query));
  const chosen = inScope.flatMap(({ shown }) => (passes(shown, query) ? [shown] : [])).sort(newestAndLikeliestFirst);
  const { offset = 0, limit = FIRST_PAGE } = query;
  const part = (): Scored =>
    scoredScope(
      inScope.map(({ each }) => each),
      head.summary,
    );
  const scored = isWhole(query) ? { scope: 'whole' as const } : scopeScores(scopeKey(head, query), part);
  return {
    state: 'ready',
    ...servedWords(served),
    stale: head.inputs !== inputs,
    ...head.summary,
    ...scored,
    depots: sortedNames(told, 'depot'),
    classes: sortedNames(told, 'class'),
    forecasts: chosen.slice(offset, offset + limit),
    forecastsInAll: chosen.length,
  };
}

function scopeKey({ computedUs }: BacktestHead, { depot, class: name, from, to }: Scope): string {
  return JSON.stringify([computedUs, depot, name, from, to]);
}

function sortedNames(told: readonly { shown: TrackedForecast }[], name: 'depot' | 'class'): string[] {
  return [...new Set(told.map(({ shown }) => shown[name]))].sort();
}

export function trackedForecast(forecast: BacktestForecast, of: Unit | null): TrackedForecast {
  const { asOfOn, unit, position, component, pFail, windowEarlyOn, windowMidOn, windowLateOn } = forecast;
  const { failedWithin, failedOn, end, followedToOn } = forecast;
  const [depot, className] = [of?.depot ?? '', of?.class ?? ''];
  const said = { asOfOn, unit, position, depot, class: className, component, pFail };
  return { ...said, windowEarlyOn, windowMidOn, windowLateOn, failedWithin, failedOn, end, followedToOn };
}

/** Whether it belongs to the part that is scored. What came of a forecast is no part of it: it would decide its score. */
function isWithin({ depot, class: name, asOfOn }: TrackedForecast, query: Scope): boolean {
  return (
    (query.depot ?? depot) === depot &&
    (query.class ?? name) === name &&
    (query.from ?? asOfOn) <= asOfOn &&
    asOfOn <= (query.to ?? asOfOn)
  );
}

function passes({ component, failedWithin }: TrackedForecast, query: TrackRecordQuery): boolean {
  const outcome = failedWithin === null ? 'open' : failedWithin ? 'failed' : 'lived';
  return (query.component ?? component) === component && (query.outcome ?? outcome) === outcome;
}

function newestAndLikeliestFirst(a: TrackedForecast, b: TrackedForecast): number {
  const text = (x: string, y: string) => Number(x > y) - Number(x < y);
  const place = text(a.unit, b.unit) || text(a.component, b.component) || text(a.position, b.position);
  return text(b.asOfOn, a.asOfOn) || b.pFail - a.pFail || place;
}

function nothingWalked(served: ServedStore, state: 'no_data' | 'not_walked'): TrackRecord {
  const nothing = { plan: null, origins: [], followedToOn: null, entryDelayDays: 0, refused: 0, gone: 0, unplaced: 0 };
  const empty = { scores: [], months: [], depots: [], classes: [], forecasts: [], forecastsInAll: 0 };
  return { state, ...servedWords(served), stale: false, scope: 'whole', ...nothing, ...empty };
}
