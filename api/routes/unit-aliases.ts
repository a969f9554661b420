import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { AliasAnswer, AliasRequest, DistinctionAnswer, UnitAliases } from '../contract/unit-aliases.ts';
import { ProblemError } from '../problem-error.ts';
import { aliasRows, distinctionRows, unitAliasesView } from '../views/unit-aliases-view.ts';
import { acceptAliases, askAgain, keepApart, takeBackAliases } from '../../etl/unit-aliases.ts';

const Params = Type.Object({ spelling: Type.String({ minLength: 1 }) });
const Pair = Type.Object({ unit: Type.String({ minLength: 1 }), other: Type.String({ minLength: 1 }) });

/** Which spellings are one unit and which are two, as people say. It stays until it is taken back. */
export function unitAliasRoutes(app: App, { store, now }: AppContext): void {
  const nowUs = () => now() * 1000;
  app.get(
    '/api/unit-aliases',
    { schema: { response: { 200: UnitAliases }, summary: 'Spellings that are one unit, and those that may be' } },
    async () => unitAliasesView(store),
  );
  app.post(
    '/api/unit-aliases',
    { schema: { body: AliasRequest, response: { 201: AliasAnswer }, summary: 'Counts spellings as one unit' } },
    async ({ body }, reply) => {
      const accepted = await acceptAliases(store, { ...body, atUs: nowUs() }).catch(asProblem(400));
      const takesEffect = 'lives and forecasts follow with the next assessment';
      return reply.code(201).send({ aliases: await aliasRows(store, accepted), takesEffect });
    },
  );
  app.post(
    '/api/unit-distinctions',
    { schema: { body: AliasRequest, response: { 201: DistinctionAnswer }, summary: 'Counts spellings as two units' } },
    async ({ body }, reply) => {
      const apart = await keepApart(store, { ...body, atUs: nowUs() }).catch(asProblem(400));
      return reply.code(201).send({ apart: distinctionRows(apart) });
    },
  );
  app.delete(
    '/api/unit-distinctions/:unit/:other',
    { schema: { params: Pair, response: { 204: Type.Null() }, summary: 'Two spellings may be one unit again' } },
    async ({ params }, reply) => {
      await askAgain(store, [params.unit, params.other], nowUs()).catch(asProblem(404));
      return reply.code(204).send(null);
    },
  );
  app.delete(
    '/api/unit-aliases/:spelling',
    { schema: { params: Params, response: { 204: Type.Null() }, summary: 'Takes back the aliases of a spelling' } },
    async ({ params }, reply) => {
      await takeBackAliases(store, params.spelling, nowUs()).catch(asProblem(404));
      return reply.code(204).send(null);
    },
  );
}

/** What a person typed that cannot be done; any other failure is the program's own. */
function asProblem(status: number): (error: unknown) => never {
  return (error) => {
    if (error instanceof RangeError) throw new ProblemError(status, error.message, 'Reload the page.');
    throw error;
  };
}
