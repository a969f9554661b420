import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Cranks } from '../contract/crank.ts';
import { arrowStream } from '../export/arrow-writer.ts';
import { CRANK_COLUMNS, crankCells } from '../export/crank-export.ts';
import { accepts, ARROW_STREAM } from '../plugins/accepted-type.ts';
import { ProblemError } from '../problem-error.ts';
import { crankRows } from '../views/crank-view.ts';
import { cranksState, requireUnit } from '../views/known-unit.ts';
import { suspectEvidence } from '../../etl/signal/suspect-evidence.ts';
import { asOf, dateOf, dayNumber, isDate } from '../../etl/model/time.ts';

const Params = Type.Object({ unit: Type.String({ minLength: 1 }) });
const Query = Type.Object(
  {
    position: Type.Optional(Type.String({ maxLength: 200 })),
    from: Type.Optional(Type.String({ maxLength: 40, description: 'date or instant, included' })),
    to: Type.Optional(Type.String({ maxLength: 40, description: 'date or instant, included' })),
  },
  { additionalProperties: false },
);

/** A unit's cranks in time order: JSON rows, or an Arrow stream with the columns of the export. */
export function unitCranksRoute(app: App, { store, answers }: AppContext): void {
  const schema = { params: Params, querystring: Query, response: { 200: Cranks }, summary: 'One unit’s cranks' };
  app.get(
    '/api/units/:unit/cranks',
    { schema, config: { cached: true, alsoAs: [ARROW_STREAM] } },
    async (request, reply) => {
      const { unit, engines } = await requireUnit(store, request.params.unit);
      const { position, from, to } = request.query;
      const { timeZone } = await store.settings();
      const span = timeSpan({ from, to, zone: timeZone });
      const state = [timeZone, await cranksState(store, engines), await store.inputsVersion()];
      const make = async () => {
        const fileOf = new Map((await store.imports()).map(({ importId, file }) => [importId, file]));
        const registered = await store.unit(unit);
        const rows = [];
        for (const engine of engines.filter((each) => position === undefined || each.position === position)) {
          const table = await store.finished(engine);
          if (table === null) continue;
          const evidence = suspectEvidence(table, registered);
          rows.push(...crankRows(engine, table, { ...span, fileOf, evidence }));
        }
        return rows;
      };
      const parts = ['cranks', unit, position ?? '', from ?? '', to ?? '', ...state];
      if (accepts(request.headers.accept, ARROW_STREAM))
        return answers.send(
          { request, reply },
          { parts, type: ARROW_STREAM, make: async () => arrowStream(CRANK_COLUMNS, (await make()).map(crankCells)) },
        );
      return answers.send(
        { request, reply },
        { parts, type: 'application/json', make: async () => JSON.stringify({ unit, cranks: await make() }) },
      );
    },
  );
}

/** A date means its whole day in the fleet's zone. */
function timeSpan({ from, to, zone }: { from: string | undefined; to: string | undefined; zone: string }) {
  const until = (text: string, field: string) => {
    try {
      return asOf(text, zone).us;
    } catch {
      const detail = `${field} requires a date YYYY-MM-DD or an instant with zone, got ${text || 'nothing'} (query)`;
      throw new ProblemError(400, detail, 'Write the day as 2026-03-01.');
    }
  };
  const toUs = to === undefined ? Infinity : until(to, 'to');
  if (from === undefined) return { fromUs: -Infinity, toUs };
  const endUs = until(from, 'from');
  return { fromUs: isDate(from) ? until(dateOf(dayNumber(from) - 1), 'from') + 1 : endUs, toUs };
}
