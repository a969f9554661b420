import type { App, AppContext } from '../app-context.ts';
import { Health } from '../contract/health.ts';
import { assessedDay } from '../views/assessed-day.ts';

const WHY = {
  no_data: 'no data: nothing has been loaded',
  not_assessed: 'not assessed: data are loaded, run assess',
};

/** Ready, or why not. 503 lets a supervisor see it without reading. */
export function healthRoute(app: App, { store, storeKind }: AppContext): void {
  const schema = { response: { 200: Health, 503: Health }, summary: 'Whether the server can answer' };
  app.get('/healthz', { schema }, async (_request, reply) => {
    const [day, imports] = await Promise.all([assessedDay(store), store.imports()]);
    const counted = { store: storeKind, imports: imports.length };
    if (typeof day === 'string') return reply.code(503).send({ ready: false, why: WHY[day], ...counted, asOf: null });
    return { ready: true, why: '', ...counted, asOf: day.head.asOf.label };
  });
}
