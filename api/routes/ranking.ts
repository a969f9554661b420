import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Ranking } from '../contract/ranking.ts';
import { rankingCsv } from '../export/ranking-download.ts';
import { assessedDay, stateParts } from '../views/assessed-day.ts';
import { emptyRanking } from '../views/ranking-view.ts';

const Query = Type.Object(
  {
    as_of: Type.Optional(Type.String({ maxLength: 40, description: 'an assessed date; the newest if left out' })),
    format: Type.Optional(Type.Enum(['json', 'csv'])),
  },
  { additionalProperties: false },
);

/** The fleet ranked by the cost of waiting, as JSON for the page or as CSV for a spreadsheet. */
export function rankingRoute(app: App, context: AppContext): void {
  const { store, answers, rankings } = context;
  const schema = { querystring: Query, response: { 200: Ranking }, summary: 'The ranked fleet' };
  app.get('/api/ranking', { schema, config: { cached: true, alsoAs: ['text/csv'] } }, async (request, reply) => {
    const day = await assessedDay(store, request.query.as_of);
    const asCsv = request.query.format === 'csv' || /^text\/csv\b/.test(request.headers.accept ?? '');
    const view = () => (typeof day === 'string' ? emptyRanking(store, context, day) : rankings.of(day));
    const parts = typeof day === 'string' ? [day, await store.settingsVersion()] : stateParts(day);
    if (!asCsv)
      return answers.send(
        { request, reply },
        { parts: ['ranking', ...parts], type: 'application/json', make: async () => JSON.stringify(await view()) },
      );
    const name = typeof day === 'string' ? 'ranking' : `ranking-${day.head.asOf.on}`;
    reply.header('content-disposition', `attachment; filename="${name}.csv"`);
    return answers.send(
      { request, reply },
      { parts: ['ranking', ...parts], type: 'text/csv; charset=utf-8', make: async () => rankingCsv(await view()) },
    );
  });
}
