import type { BacktestForecast } from '../../etl/model/backtest.ts';
import type { BacktestHead, Store } from '../../etl/store/store.ts';
import type { StoreKind } from '../contract/scalars.ts';
import type { TrackedForecast, TrackRecord, TrackRecordQuery } from '../contract/track-record.ts';

const FIRST_PAGE = 200;

/** The newest backtest as the page shows it; `head` null where there is none. */
export async function trackRecordView(
  store: Store,
  storeKind: StoreKind,
  { head, query, inputs }: { head: BacktestHead | null; query: TrackRecordQuery; inputs: string },
): Promise<TrackRecord> {
  if (head === null) return nothingWalked(storeKind, (await store.imports()).length === 0 ? 'no_data' : 'not_walked');
  const [forecasts, units] = await Promise.all([store.backtestForecasts(), store.units()]);
  const depotOf = new Map(units.map(({ unit, depot }) => [unit, depot]));
  const tracked = forecasts.map((forecast) => trackedForecast(forecast, depotOf.get(forecast.unit) ?? ''));
  const chosen = tracked.filter((each) => passes(each, query)).sort(newestAndLikeliestFirst);
  const { offset = 0, limit = FIRST_PAGE } = query;
  return {
    state: 'ready',
    store: storeKind,
    stale: head.inputs !== inputs,
    ...head.summary,
    depots: [...new Set(tracked.map(({ depot }) => depot))].sort(),
    forecasts: chosen.slice(offset, offset + limit),
    forecastsInAll: chosen.length,
  };
}

function trackedForecast(forecast: BacktestForecast, depot: string): TrackedForecast {
  const { asOfOn, unit, position, component, pFail, windowEarlyOn, windowMidOn, windowLateOn } = forecast;
  const { failedWithin, failedOn, end, followedToOn } = forecast;
  const said = { asOfOn, unit, position, depot, component, pFail, windowEarlyOn, windowMidOn, windowLateOn };
  return { ...said, failedWithin, failedOn, end, followedToOn };
}

function passes({ component, depot, failedWithin }: TrackedForecast, query: TrackRecordQuery): boolean {
  const outcome = failedWithin === null ? 'open' : failedWithin ? 'failed' : 'lived';
  return (
    (query.component ?? component) === component &&
    (query.depot ?? depot) === depot &&
    (query.outcome ?? outcome) === outcome
  );
}

function newestAndLikeliestFirst(a: TrackedForecast, b: TrackedForecast): number {
  const text = (x: string, y: string) => Number(x > y) - Number(x < y);
  const place = text(a.unit, b.unit) || text(a.component, b.component) || text(a.position, b.position);
  return text(b.asOfOn, a.asOfOn) || b.pFail - a.pFail || place;
}

function nothingWalked(storeKind: StoreKind, state: 'no_data' | 'not_walked'): TrackRecord {
  const nothing = { plan: null, origins: [], followedToOn: null, entryDelayDays: 0, refused: 0, gone: 0, unplaced: 0 };
  const empty = { scores: [], months: [], depots: [], forecasts: [], forecastsInAll: 0 };
  return { state, store: storeKind, stale: false, ...nothing, ...empty };
}
