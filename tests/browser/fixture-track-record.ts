/** The track record of invented forecasts, through the server's own view. */
import { createScopeScores } from '../../api/views/track-record-scope.ts';
import { trackRecordView } from '../../api/views/track-record-view.ts';
import { inventedForecasts, inventedSummary } from '../support/backtest-forecasts.ts';
import { importRecord } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';
import { unit } from '../support/units.ts';
import { HOSTILE_UNIT } from './fixture-fleet.ts';

const forecasts = inventedForecasts({ units: 120 }).map((each) =>
  each.unit === 'U7' ? { ...each, unit: HOSTILE_UNIT } : each,
);
const store = memoryStore({
  imports: [importRecord()],
  units: [...new Set(forecasts.map((each) => each.unit))].map((each) =>
    unit({ unit: each, depot: each.endsWith('1') ? 'Tarn Cross' : 'Westmere' }),
  ),
});
const scopeScores = createScopeScores();
const saved = store.saveBacktest({ ...inventedSummary(forecasts), forecasts }, 1, 'inputs-1');

export async function fixtureTrackRecord(given: URLSearchParams): Promise<string> {
  await saved;
  const query: Record<string, string | number> = Object.fromEntries(given);
  for (const name of ['offset', 'limit']) if (name in query) query[name] = Number(query[name]);
  const head = await store.backtest();
  return JSON.stringify(
    await trackRecordView(store, { storeKind: 'sample' }, { head, query, inputs: 'inputs-1', scopeScores }),
  );
}
