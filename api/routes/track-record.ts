import type { App, AppContext } from '../app-context.ts';
import { TrackRecord, TrackRecordQuery } from '../contract/track-record.ts';
import { backtestCsv } from '../export/backtest-download.ts';
import { createScopeScores } from '../views/track-record-scope.ts';
import { trackRecordView } from '../views/track-record-view.ts';

/** Did the forecasts come true: the newest backtest's scores beside the baselines, and its forecasts one by one. */
export function trackRecordRoute(app: App, context: AppContext): void {
  const { store, answers } = context;
  const scopeScores = createScopeScores();
  const schema = {
    querystring: TrackRecordQuery,
    response: { 200: TrackRecord },
    summary: 'Did the forecasts come true',
  };
  app.get('/api/track-record', { schema, config: { cached: true, alsoAs: ['text/csv'] } }, async (request, reply) => {
    const { query } = request;
    const [head, inputs] = [await store.backtest(), await store.inputsVersion()];
    const parts = ['track-record', head?.computedUs ?? '', head?.inputs ?? '', inputs, JSON.stringify(query)];
    const view = (page: TrackRecordQuery) =>
      trackRecordView(store, context, { head, query: page, inputs, scopeScores });
    if (query.format !== 'csv')
      return answers.send(
        { request, reply },
        { parts, type: 'application/json', make: async () => JSON.stringify(await view(query)) },
      );
    reply.header('content-disposition', 'attachment; filename="track-record.csv"');
    const make = async () => {
      const { forecasts } = await view({ ...query, offset: 0, limit: Infinity });
      return backtestCsv(forecasts, (await store.settings()).currency);
    };
    return answers.send({ request, reply }, { parts, type: 'text/csv; charset=utf-8', make });
  });
}
