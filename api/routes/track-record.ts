import type { App, AppContext } from '../app-context.ts';
import { TrackRecord, TrackRecordQuery } from '../contract/track-record.ts';
import { trackRecordView } from '../views/track-record-view.ts';

/** Did the forecasts come true: the newest backtest's scores beside the baselines, and its forecasts one by one. */
export function trackRecordRoute(app: App, { store, storeKind, answers }: AppContext): void {
  const schema = {
    querystring: TrackRecordQuery,
    response: { 200: TrackRecord },
    summary: 'Did the forecasts come true',
  };
  app.get('/api/track-record', { schema }, async (request, reply) => {
    const { query } = request;
    const [head, inputs] = [await store.backtest(), await store.inputsVersion()];
    const parts = ['track-record', head?.computedUs ?? '', head?.inputs ?? '', inputs, JSON.stringify(query)];
    const make = async () => JSON.stringify(await trackRecordView(store, storeKind, { head, query, inputs }));
    return answers.send({ request, reply }, { parts, type: 'application/json', make });
  });
}
