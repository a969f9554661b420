import swagger from '@fastify/swagger';
import type { App } from '../app-context.ts';
import { Problem } from '../contract/problem.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Media types that the answer is also had in, beside JSON. */
    alsoAs?: readonly string[];
    /** Answered with an ETag: who holds it is told that nothing has changed. */
    cached?: boolean;
  }
}

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
          'Dates are YYYY-MM-DD, instants ISO 8601 in UTC, money integer minor units, null is unknown. ' +
          'Errors are problem details (RFC 9457) with what to do about them.',
      },
      components: { responses: { Problem: PROBLEM } },
    },
    transform: ({ schema, url, route }) => ({
      schema: { ...schema, response: responses(schema.response, route.config) },
      url,
    }),
    transformObject: (described) => {
      const document = 'openapiObject' in described ? described.openapiObject : described.swaggerObject;
      for (const operations of Object.values(document.paths ?? {}))
        for (const operation of Object.values(operations as Record<string, Operation>))
          for (const status of ['4XX', '5XX']) operation.responses[status] = { $ref: '#/components/responses/Problem' };
      return document;
    },
  });
  app.get('/api/openapi.json', { schema: { hide: true } }, () => app.swagger());
}

type Operation = { responses: Record<string, unknown> };

const PROBLEM = {
  description: 'What is wrong, and what to do about it',
  content: { 'application/problem+json': { schema: JSON.parse(JSON.stringify(Problem)) as object } },
};

type RouteConfig = { alsoAs?: readonly string[]; cached?: boolean };

/** What a route answers when all is well: in each media type, and that nothing has changed. */
function responses(described: unknown, { alsoAs = [], cached = false }: RouteConfig = {}): object {
  const own = { ...(described as Record<string, object>) };
  if (alsoAs.length > 0)
    own['200'] = {
      'x-response-description': 'Default Response',
      content: {
        'application/json': { schema: own['200'] },
        // Not JSON: there is nothing for a schema to say.
        ...Object.fromEntries(alsoAs.map((type) => [type, { schema: {} }])),
      },
    };
  return cached ? { ...own, 304: { type: 'null', description: 'Nothing has changed since this ETag' } } : own;
}
