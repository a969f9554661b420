import swagger from '@fastify/swagger';
import type { App } from '../app-context.ts';

/** Describes every route that is registered after it, at /api/openapi.json. */
export async function registerOpenApi(app: App): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Crankledger',
        version: '1',
        description:
          'Which units of a fleet will next fail to crank, why, and when to pull them in. ' +
          'Dates are YYYY-MM-DD, instants ISO 8601 in UTC, money integer minor units, null is unknown.',
      },
    },
  });
  app.get('/api/openapi.json', { schema: { hide: true } }, () => app.swagger());
}
