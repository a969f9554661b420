import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { BookingAnswer, BookingRequest } from '../contract/ranking.ts';
import { ProblemError } from '../problem-error.ts';
import { requireUnit } from '../views/known-unit.ts';
import { dayOf } from '../../etl/model/time.ts';
import type { Booking, Store } from '../../etl/store/store.ts';

const Params = Type.Object({ id: Type.Integer({ minimum: 1 }) });

/** Jobs that the planner books: the next visit of the unit, from then on. */
export function bookingRoutes(app: App, { store, now }: AppContext): void {
  const nowUs = () => now() * 1000;
  app.post(
    '/api/bookings',
    { schema: { body: BookingRequest, response: { 201: BookingAnswer }, summary: 'Books a replacement' } },
    async ({ body }, reply) => {
      const { unit: goesBy } = await requireUnit(store, body.unit);
      const booked = await bookedAhead(store, { ...body, unit: goesBy }, nowUs());
      if (booked !== undefined)
        throw new ProblemError(
          409,
          `booking requires a job that is not booked yet, got one for ${booked.bookedOn} (${body.unit} ${body.component})`,
          'Reload the page. To move the job, take that booking back first.',
        );
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

/** `job.unit` as the unit goes by. The booking of the same job that stands and is still to come: a second one would take its place without a word. */
async function bookedAhead(store: Store, job: BookingRequest, nowUs: number): Promise<Booking | undefined> {
  const today = dayOf(nowUs, (await store.settings()).timeZone);
  return (await store.bookings()).find(
    (each) =>
      each.withdrawnUs === null &&
      each.bookedOn >= today &&
      each.unit === job.unit &&
      each.position === job.position &&
      each.component === job.component,
  );
}
