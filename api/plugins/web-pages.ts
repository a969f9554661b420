import fastifyStatic from '@fastify/static';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { App } from '../app-context.ts';
import { ProblemError } from '../problem-error.ts';

/** Addresses of the pages: all are drawn by the one document, which reads its address itself. */
const PAGES = ['/', '/imports', '/settings', '/track-record', '/unit'];

/** Hands out the built pages. Files carry a hash in their name and are kept by the browser; the document is not. */
export async function registerWebPages(app: App, webFolder: string): Promise<void> {
  if (!existsSync(join(webFolder, 'index.html'))) {
    for (const page of PAGES)
      app.get(page, { schema: { hide: true } }, () => {
        throw new ProblemError(503, `the pages require a build, got none in ${webFolder}`, 'Run npm run build.');
      });
    return;
  }
  await app.register(fastifyStatic, {
    root: webFolder,
    index: false,
    setHeaders: (reply, path) => void reply.header('cache-control', /\/assets\//.test(path) ? KEPT : 'no-cache'),
  });
  for (const page of PAGES)
    app.get(page, { schema: { hide: true } }, (_request, reply) => reply.sendFile('index.html', webFolder));
  answerMistypedAddresses(app, join(webFolder, 'index.html'));
}

/** An address that somebody typed wrongly is answered by the document, which says so and leads to the list. */
function answerMistypedAddresses(app: App, document: string): void {
  app.addHook('onSend', async (request, reply, payload) => {
    const typed = request.method === 'GET' && (request.headers.accept ?? '').includes('text/html');
    if (reply.statusCode !== 404 || !typed || request.url.startsWith('/api')) return payload;
    void reply.type('text/html; charset=utf-8').removeHeader('content-length');
    return readFile(document);
  });
}

const KEPT = 'public, max-age=31536000, immutable';
