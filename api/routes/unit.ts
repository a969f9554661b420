import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { UnitOutlooks, UnitView } from '../contract/unit.ts';
import type { Store } from '../../etl/store/store.ts';
import { arrowStream } from '../export/arrow-writer.ts';
import { OUTLOOK_COLUMNS, outlookCells } from '../export/assessed-exports.ts';
import { dayOfUnit } from '../export/day-of-unit.ts';
import { accepts, ARROW_STREAM } from '../plugins/accepted-type.ts';
import { requireAssessedDay, stateParts, type AssessedDay } from '../views/assessed-day.ts';
import { cranksState, requireUnit, type KnownUnit } from '../views/known-unit.ts';
import { outlookView, unitView } from '../views/unit-view.ts';

const Params = Type.Object({ unit: Type.String({ minLength: 1 }) });
const Query = Type.Object(
  {
    as_of: Type.Optional(Type.String({ maxLength: 40, description: 'an assessed date; the newest if left out' })),
  },
  { additionalProperties: false },
);

/** All that a page about one unit shows, and its forecasts alone. The unit number is data, encoded in the address. */
export function unitRoutes(app: App, { store, storeKind, answers, rankings }: AppContext): void {
  app.get(
    '/api/units/:unit',
    {
      schema: { params: Params, querystring: Query, response: { 200: UnitView }, summary: 'One unit' },
      config: { cached: true },
    },
    async (request, reply) => {
      const day = await requireAssessedDay(store, request.query.as_of);
      const known = await unitThen(store, request.params.unit, day);
      const make = async () => {
        const { currency, rows } = await rankings.of(day);
        const ranking = rows.filter((row) => row.unit === known.unit);
        return JSON.stringify(await unitView(store, { known, day, storeKind, currency, ranking }));
      };
      const backtest = await store.backtest();
      const { asOf, computedUs, reassessedUs } = day.newest;
      const since = [asOf.label, computedUs, reassessedUs ?? '', backtest?.computedUs ?? ''];
      const cranks = await cranksState(store, known.engines);
      const parts = ['unit', known.unit, ...stateParts(day), ...since, cranks];
      return answers.send({ request, reply }, { parts, type: 'application/json', make });
    },
  );
  app.get(
    '/api/units/:unit/outlook',
    {
      schema: { params: Params, querystring: Query, response: { 200: UnitOutlooks }, summary: 'One unit’s forecasts' },
      config: { cached: true, alsoAs: [ARROW_STREAM] },
    },
    async (request, reply) => {
      const { unit } = await requireUnit(store, request.params.unit);
      const day = await requireAssessedDay(store, request.query.as_of);
      const asOf = (await dayOfUnit(store, day.head.asOf.label))(unit);
      const outlooks = async () => store.outlooks(day.head.asOf.label, unit);
      const parts = ['outlook', unit, ...stateParts(day)];
      const arrow = async () =>
        arrowStream(
          OUTLOOK_COLUMNS,
          (await outlooks()).map((each) => outlookCells(each, asOf)),
        );
      if (accepts(request.headers.accept, ARROW_STREAM))
        return answers.send({ request, reply }, { parts, type: ARROW_STREAM, make: arrow });
      const make = async () => JSON.stringify({ unit, asOf, outlooks: (await outlooks()).map(outlookView) });
      return answers.send({ request, reply }, { parts, type: 'application/json', make });
    },
  );
}

/** On an earlier day the register is the one of then. */
async function unitThen(store: Store, unit: string, day: AssessedDay): Promise<KnownUnit> {
  const known = await requireUnit(store, unit);
  if (day.isNewest) return known;
  const registered = (await store.units(day.head.asOf.us)).find((each) => each.unit === known.unit) ?? null;
  return { ...known, registered };
}
