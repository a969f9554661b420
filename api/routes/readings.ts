import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { ReadingAnswer, ReadingRequest, type Reading } from '../contract/reading.ts';
import { ProblemError } from '../problem-error.ts';
import { canReassess, reassessAndRank } from '../reassess-and-rank.ts';
import { requireUnit } from '../views/known-unit.ts';

const Params = Type.Object({ unit: Type.String({ minLength: 1 }), workOrder: Type.String({ minLength: 1 }) });

/** A person's reading of a repair record, in place of the program's. It stays until it is taken back. */
export function readingRoutes(app: App, { store, now }: AppContext): void {
  const nowUs = () => now() * 1000;
  app.post(
    '/api/work-orders/:unit/:workOrder/reading',
    {
      schema: {
        params: Params,
        body: ReadingRequest,
        response: { 201: ReadingAnswer },
        summary: 'Corrects how a repair record was read',
      },
    },
    async ({ params, body }, reply) => {
      const { unit } = await requireUnit(store, params.unit);
      const { workOrder } = params;
      const known = (await store.workOrders(Infinity, unit)).some((order) => order.workOrder === workOrder);
      if (!known)
        throw new ProblemError(404, `reading requires a work order of ${unit}, got ${workOrder}`, 'Reload the page.');
      body.readings.forEach(refuseContradiction);
      await store.correctReading({ unit, workOrder, readings: body.readings, createdUs: nowUs() });
      const takesEffect = await takenUp(store, unit, nowUs());
      return reply.code(201).send({ unit, workOrder, readings: body.readings, takesEffect });
    },
  );
  app.delete(
    '/api/work-orders/:unit/:workOrder/reading',
    { schema: { params: Params, response: { 204: Type.Null() }, summary: 'Takes a correction of a reading back' } },
    async ({ params }, reply) => {
      const { unit, workOrder } = params;
      const standing = (await store.readingCorrections(unit)).some((each) => each.workOrder === workOrder);
      if (!standing)
        throw new ProblemError(
          404,
          `correction requires one that stands, got ${unit} ${workOrder}`,
          'Reload the page.',
        );
      await store.withdrawReading(unit, workOrder, nowUs());
      await takenUp(store, unit, nowUs());
      return reply.code(204).send(null);
    },
  );
}

/** The unit's lives and forecasts follow at once, where its fleet has been assessed by this program. */
async function takenUp(store: AppContext['store'], unit: string, nowUs: number): Promise<string> {
  if (!(await canReassess(store))) return 'lives and forecasts follow with the next assessment';
  await reassessAndRank(store, [unit], nowUs);
  return `lives and forecasts of ${unit} follow it now; what it says of other units, with the next assessment`;
}

const WITHOUT_PART: readonly string[] = ['no_start', 'unrelated'];

/** No part without an event that needs none; nothing unrelated of a part. */
function refuseContradiction({ component, event }: Reading): void {
  if (component === 'none' && !WITHOUT_PART.includes(event))
    throw new ProblemError(400, `event ${event} requires a component, got none`, 'Name the part that was worked on.');
  if (component !== 'none' && event === 'unrelated')
    throw new ProblemError(400, `event unrelated requires component none, got ${component}`, 'Name none as the part.');
}
