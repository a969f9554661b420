import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { DeferralAnswer, DeferralRequest } from '../contract/ranking.ts';
import { ProblemError } from '../problem-error.ts';
import { requireUnit } from '../views/known-unit.ts';

const Params = Type.Object({ id: Type.Integer({ minimum: 1 }) });

/** What the planner puts off with a reason: it keeps its rank and is marked. */
export function deferralRoutes(app: App, { store, now }: AppContext): void {
  const nowUs = () => now() * 1000;
  app.post(
    '/api/deferrals',
    { schema: { body: DeferralRequest, response: { 201: DeferralAnswer }, summary: 'Puts a component off' } },
    async ({ body }, reply) => {
      await requireUnit(store, body.unit);
      const { deferralId, unit, untilOn } = await store.addDeferral({ ...body, createdUs: nowUs() });
      return reply.code(201).send({ deferralId, unit, untilOn });
    },
  );
  app.delete(
    '/api/deferrals/:id',
    { schema: { params: Params, response: { 204: Type.Null() }, summary: 'Takes a deferral back' } },
    async ({ params }, reply) => {
      const standing = (await store.deferrals()).some(
        ({ deferralId, withdrawnUs }) => deferralId === params.id && withdrawnUs === null,
      );
      if (!standing)
        throw new ProblemError(404, `deferral requires one that stands, got ${params.id}`, 'Reload the page.');
      await store.withdrawDeferral(params.id, nowUs());
      return reply.code(204).send(null);
    },
  );
}
