import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Cranks } from '../contract/crank.ts';
import { arrowStream } from '../export/arrow-writer.ts';
import { CRANK_COLUMNS, crankCells } from '../export/crank-export.ts';
import { ProblemError } from '../problem-error.ts';
import { crankRows } from '../views/crank-view.ts';
import { cranksState, requireUnit } from '../views/known-unit.ts';
import { suspectEvidence } from '../../etl/signal/suspect-evidence.ts';
import { asOf, dateOf, dayNumber } from '../../etl/model/time.ts';

const Params = Type.Object({ unit: Type.String({ minLength: 1 }) });
const Query = Type.Object(
  {
    position: Type.Optional(Type.String({ maxLength: 200 })),
    from: Type.Optional(Type.String({ maxLength: 40, description: 'date or instant, included' })),
    to: Type.Optional(Type.String({ maxLength: 40, description: 'date or instant, included' })),
  },
  { additionalProperties: false },
);
export const ARROW_STREAM = 'application/vnd.apache.arrow.stream';

/** A unit's cranks in time order: JSON rows, or an Arrow stream with the columns of the export. */
export function unitCranksRoute(app: App, { store, answers }: AppContext): void {
  const schema = { params: Params, querystring: Query, response: { 200: Cranks }, summary: 'One unit’s cranks' };
  app.get('/api/units/:unit/cranks', { schema }, async (request, reply) => {
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
  });
}

/** A date means its whole day in the fleet's zone. */
function timeSpan({ from, to, zone }: { from: string | undefined; to: string | undefined; zone: string }) {
  try {
    const isDate = from !== undefined && /^\d{4}-\d{2}-\d{2}$/.test(from);
    const dayBefore = isDate ? asOf(dateOf(dayNumber(from) - 1), zone).us + 1 : null;
    const fromUs = dayBefore ?? (from === undefined ? -Infinity : asOf(from, zone).us);
    return { fromUs, toUs: to === undefined ? Infinity : asOf(to, zone).us };
  } catch {
    throw new ProblemError(
      400,
      `from and to require a date YYYY-MM-DD or an instant with zone, got ${from ?? ''} and ${to ?? ''}`,
      'Write the day as 2026-03-01.',
    );
  }
}

export function accepts(accept: string | undefined, type: string): boolean {
  return (accept ?? '').split(',').some((each) => each.split(';')[0]!.trim().toLowerCase() === type);
}
