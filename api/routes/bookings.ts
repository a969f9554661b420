import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { BookingAnswer, BookingRequest } from '../contract/ranking.ts';
import { ProblemError } from '../problem-error.ts';
import { requireUnit } from '../views/known-unit.ts';

const Params = Type.Object({ id: Type.Integer({ minimum: 1 }) });

/** Jobs that the planner books: the next visit of the unit, from then on. */
export function bookingRoutes(app: App, { store, now }: AppContext): void {
  const nowUs = () => now() * 1000;
  app.post(
    '/api/bookings',
    { schema: { body: BookingRequest, response: { 201: BookingAnswer }, summary: 'Books a replacement' } },
    async ({ body }, reply) => {
      await requireUnit(store, body.unit);
      const { bookingId, unit, bookedOn } = await store.addBooking({ ...body, createdUs: nowUs() });
      return reply.code(201).send({ bookingId, unit, bookedOn });
    },
  );
  app.delete(
    '/api/bookings/:id',
    { schema: { params: Params, response: { 204: Type.Null() }, summary: 'Takes a booking back' } },
    async ({ params }, reply) => {
      const standing = (await store.bookings()).some(
        ({ bookingId, withdrawnUs }) => bookingId === params.id && withdrawnUs === null,
      );
      if (!standing)
        throw new ProblemError(404, `booking requires one that stands, got ${params.id}`, 'Reload the page.');
      await store.withdrawBooking(params.id, nowUs());
      return reply.code(204).send(null);
    },
  );
}
