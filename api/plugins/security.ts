import helmet from '@fastify/helmet';
import type { FastifyRequest } from 'fastify';
import type { App } from '../app-context.ts';
import { ProblemError } from '../problem-error.ts';

/**
 * What keeps other web pages out of a server without accounts.
 *
 * - The Host header must be a loopback name: else a foreign name that was made to resolve to this machine could read
 *   everything (DNS rebinding).
 * - A write that comes from a browser must come from a page of this very server, and its body must be JSON, which no
 *   foreign form can send without asking first.
 * - Pages may load nothing but what this server hands out. `upgrade-insecure-requests` is left out: on loopback there
 *   is no HTTPS to upgrade to. Images may be `data:`, which charts draw their patterns with.
 */
export async function registerSecurity(app: App, allowedHosts: readonly string[]): Promise<void> {
  await app.register(helmet, {
    strictTransportSecurity: false,
    contentSecurityPolicy: { useDefaults: false, directives: CONTENT_SECURITY_POLICY },
  });
  app.addHook('onRequest', async (request) => {
    checkHost(request, allowedHosts);
    if (WRITES.has(request.method)) {
      checkOrigin(request);
      checkBodyType(request);
    }
  });
}

const CONTENT_SECURITY_POLICY = {
  defaultSrc: ["'self'"],
  imgSrc: ["'self'", 'data:'],
  objectSrc: ["'none'"],
  baseUri: ["'none'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
};

const WRITES = new Set(['POST', 'PUT', 'PATCH', 'DELETE']);
const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'];

/** `localhost:4870` → `localhost`, `[::1]:4870` → `[::1]`. */
function hostName(host: string): string {
  return host.replace(/:\d+$/, '').toLowerCase();
}

function checkHost(request: FastifyRequest, allowedHosts: readonly string[]): void {
  const host = request.headers.host ?? '';
  if ([...LOOPBACK_NAMES, ...allowedHosts].includes(hostName(host))) return;
  throw new ProblemError(
    403,
    `Host requires a name of this machine (${LOOPBACK_NAMES.join(', ')}), got ${host === '' ? 'nothing' : host}`,
    'Open the address that the program printed when it started.',
  );
}

function checkOrigin({ headers }: FastifyRequest): void {
  const origin = headers.origin;
  const foreignSite = !['same-origin', 'none', undefined].includes(headers['sec-fetch-site']);
  // A program without an Origin is not a browser: nothing on a web page can make it write.
  if (!foreignSite && (origin === undefined || origin === `http://${headers.host}`)) return;
  throw new ProblemError(
    403,
    `a write requires a page of this server (http://${headers.host}), got ${origin ?? headers['sec-fetch-site']}`,
    'Make the change on this server’s own pages.',
  );
}

function checkBodyType({ headers, method }: FastifyRequest): void {
  const hasBody = headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) > 0;
  if (!hasBody && method === 'DELETE') return;
  if (/^application\/json\s*(;|$)/i.test(headers['content-type'] ?? '')) return;
  throw new ProblemError(
    415,
    `a write requires content-type application/json, got ${headers['content-type'] ?? 'none'}`,
    'Send the body as JSON and say so in content-type.',
  );
}
