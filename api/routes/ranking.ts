import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Ranking } from '../contract/ranking.ts';
import { dayOfUnit } from '../export/day-of-unit.ts';
import { rankingArrow, rankingCsv } from '../export/ranking-download.ts';
import { accepts, ARROW_STREAM } from '../plugins/accepted-type.ts';
import { assessedDay, stateParts } from '../views/assessed-day.ts';
import { emptyRanking } from '../views/ranking-view.ts';

const Query = Type.Object(
  {
    as_of: Type.Optional(Type.String({ maxLength: 40, description: 'an assessed date; the newest if left out' })),
    format: Type.Optional(Type.Enum(['json', 'csv'])),
  },
  { additionalProperties: false },
);

/** The fleet ranked by the cost of waiting, as JSON for the page, CSV for a spreadsheet, Arrow for a program. */
export function rankingRoute(app: App, context: AppContext): void {
  const { store, answers, rankings } = context;
  const schema = { querystring: Query, response: { 200: Ranking }, summary: 'The ranked fleet' };
  app.get(
    '/api/ranking',
    { schema, config: { cached: true, alsoAs: [ARROW_STREAM, 'text/csv'] } },
    async (request, reply) => {
      const day = await assessedDay(store, request.query.as_of);
      const asCsv = request.query.format === 'csv' || /^text\/csv\b/.test(request.headers.accept ?? '');
      const view = () => (typeof day === 'string' ? emptyRanking(store, context, day) : rankings.of(day));
      const parts = typeof day === 'string' ? [day, await store.settingsVersion()] : stateParts(day);
      const asArrow = !asCsv && accepts(request.headers.accept, ARROW_STREAM);
      if (!asCsv && !asArrow)
        return answers.send(
          { request, reply },
          { parts: ['ranking', ...parts], type: 'application/json', make: async () => JSON.stringify(await view()) },
        );
      const asOfOf = await dayOfUnit(store, typeof day === 'string' ? '' : day.head.asOf.label);
      if (asArrow)
        return answers.send(
          { request, reply },
          { parts: ['ranking', ...parts], type: ARROW_STREAM, make: async () => rankingArrow(await view(), asOfOf) },
        );
      const name = typeof day === 'string' ? 'ranking' : `ranking-${day.head.asOf.on}`;
      reply.header('content-disposition', `attachment; filename="${name}.csv"`);
      const make = async () => rankingCsv(await view(), asOfOf);
      return answers.send({ request, reply }, { parts: ['ranking', ...parts], type: 'text/csv; charset=utf-8', make });
    },
  );
}
