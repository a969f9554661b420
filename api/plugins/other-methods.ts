import type { HTTPMethods } from 'fastify';
import type { App } from '../app-context.ts';
import { ProblemError } from '../problem-error.ts';

const METHODS: readonly HTTPMethods[] = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE'];

/**
 * Answers 405 with `Allow` (RFC 9110, section 15.5.6) where an address is served, but not by the method asked for.
 * Returns what completes the addresses, to be called once the last of them is registered.
 */
export function refuseOtherMethods(app: App): () => void {
  const served = new Map<string, Set<string>>();
  app.addHook('onRoute', ({ url, method }) => {
    served.set(url, new Set([...(served.get(url) ?? []), ...[method].flat()]));
  });
  return () => {
    for (const [url, methods] of served) {
      const allowed = [...methods].toSorted().join(', ');
      app.route({
        url,
        method: METHODS.filter((each) => !methods.has(each)),
        schema: { hide: true },
        handler: async (request, reply) => {
          void reply.header('allow', allowed);
          throw new ProblemError(
            405,
            `${request.url} requires ${allowed}, got ${request.method}`,
            'See /api/openapi.json for what this address takes.',
          );
        },
      });
    }
  };
}
